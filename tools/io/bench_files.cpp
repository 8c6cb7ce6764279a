// Tables and the folder of a bench report.
#include "tools/io/bench.hpp"

#include "tools/io/csv.hpp"
#include "tools/io/field_lists.hpp"
#include "tools/io/folder.hpp"

namespace tuft::io {

std::string bench_csv(const BenchRun& run) {
  const experiment::Report& report = run.report;
  std::string text = csv_line({"vent",
                               "role in use",
                               "role at the bench",
                               "role cold as at the bench",
                               "role cold at full speed",
                               "net in, use [kg/s]",
                               "net in, bench [kg/s]",
                               "net in, cold as at the bench [kg/s]",
                               "net in, cold at full speed [kg/s]",
                               "fan head, bench [Pa]",
                               "buoyancy head, bench [Pa]",
                               "span head, bench [Pa]",
                               "cause",
                               "speed outwards 20 mm off [m/s]",
                               "speed 20 mm off [m/s]",
                               "temperature 20 mm off [K]",
                               "speed outwards 20 mm off, section [m/s]",
                               "temperature 20 mm off, section [K]",
                               "hand feels [W/m2]",
                               "paper by hand",
                               "right by hand [-]",
                               "best strip hung",
                               "right at best [-]",
                               "pitfalls"});
  for (const experiment::VentSummary& view : report.vents) {
    const study::VentResult& flows = at(report.bench_result.vents, view.vent);
    std::vector<std::string> row = {vent_name(report.content, view.vent),
                                    geometry::role_word(view.change.from),
                                    geometry::role_word(view.change.to), geometry::role_word(view.cold_role),
                                    geometry::role_word(view.forced_role)};
    for (const double value : {view.net_use, view.net_bench, view.net_cold, view.net_forced, flows.fan_head,
                               flows.buoyancy_head, flows.span_head})
      row.push_back(csv_number(value));
    row.push_back(cause_word(view.cause));
    using experiment::AirPoint;
    const auto add = [&](const AirPoint* air, std::initializer_list<double AirPoint::*> values) {
      for (const auto value : values) row.push_back(air == nullptr ? "" : csv_number(air->*value));
    };
    add(air_at(view.air, 0.02), {&AirPoint::outwards, &AirPoint::speed, &AirPoint::temperature});
    add(air_at(view.air_in_section, 0.02), {&AirPoint::outwards, &AirPoint::temperature});
    row.push_back(view.air.empty() ? "" : csv_number(view.hand.value));
    row.push_back(finding_word(view.by_hand));
    row.push_back(csv_number(view.right_by_hand));
    row.push_back(finding_word(view.at_best));
    row.push_back(csv_number(view.right_at_best));
    row.push_back(
        joined(each(view.pitfalls, [](const auto& pitfall) { return trap_word(pitfall.kind); }), " "));
    text += csv_line(row);
  }
  return text;
}

std::string tell_tales_csv(const BenchRun& run) {
  const experiment::Report& report = run.report;
  std::vector<std::string> headings = {"vent", "part", "strip", "as cut", "usable"};
  add_headings<experiment::TellTaleView>(headings);
  add_headings<experiment::LeanChances>(headings, "hung: ");
  add_headings<experiment::LeanChances>(headings, "hand-held: ");
  headings.emplace_back("flutters");
  std::string text = csv_line(headings);
  for (const experiment::VentSummary& view : report.vents) {
    for (const experiment::TellTaleView& one : view.tell_tales) {
      std::vector<std::string> row = {vent_name(report.content, view.vent), part_word(one.part),
                                      one.cut->name, one.cut->words, csv_yes_no(one.usable)};
      if (one.usable) {
        for_each_field(one, AddCells(row));
        for_each_field(one.hung, AddCells(row));
        for_each_field(one.held, AddCells(row));
        row.push_back(csv_yes_no(one.flutters));
      }
      row.resize(headings.size());
      text += csv_line(row);
    }
  }
  return text;
}

std::vector<std::string> write_bench(const BenchRun& run, const std::string& place) {
  constexpr int kPixels = 1920;
  bench_json(run, {});  // throws before anything begins
  ResultsFolder folder(place);
  folder.write("bench.csv", bench_csv(run));
  folder.write("strips.csv", tell_tales_csv(run));
  folder.draw("bench", bench_figure(run), kPixels);
  folder.write("results.json", bench_json(run, folder.files()));
  folder.publish();
  return folder.files();
}

}  // namespace tuft::io
