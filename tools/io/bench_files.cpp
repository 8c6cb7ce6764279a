// Tables, figure and folder of a bench report.
#include "tools/io/bench.hpp"

#include <fmt/format.h>
#include <cmath>

#include "solver/experiment/look.hpp"
#include "tools/figure/bench_drawing.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/field_lists.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

using experiment::Bent;
using experiment::Report;

std::string lean_words(const Bent& bent, UnitSystem units) {
  if (hangs_still(bent.lean)) return "hangs still";
  return fmt::format("{} {} {}", lean_number(bent.lean, units), geometry::length_unit(units).name,
                     bent.lean > 0.0 ? "away" : "towards it");
}

const char* sight_words(physics::Seen seen) {
  return word_among(seen, {"clearly seen", "hardly seen", "not seen"});
}

// "strip leans 20 mm away, clearly seen"; a tall one's two strips in one line. A strip without a shape is one
// for which no rest was found in this air; that is another thing than a place where none can be held.
std::string strip_words(const std::vector<Bent>& strips, int vent, bool in_reach, UnitSystem units) {
  std::string text;
  physics::Seen seen = physics::Seen::not_at_all;
  for (const Bent& bent : strips) {
    if (bent.vent != vent) continue;
    if (bent.seen == physics::Seen::clearly || seen == physics::Seen::not_at_all) seen = bent.seen;
    text += text.empty() ? "" : ", ";
    if (bent.part != experiment::Part::middle) text += std::string(part_word(bent.part)) + " ";
    text += lean_words(bent, units);
  }
  if (text.empty()) return in_reach ? "no rest found for this strip here" : "no strip can be held before it";
  return text == "hangs still" ? "strip hangs still" : "strip: " + text + "; " + sight_words(seen);
}

figure::BenchPanel panel_of(const Report& report, const study::ConditionResult& result,
                            const std::vector<Bent>& strips, const std::string& label) {
  const geometry::Case& content = report.content;
  const auto& condition = at(content.conditions, result.condition);
  figure::BenchPanel panel;
  panel.heading = label + ": " + condition.name;
  panel.remark = circumstances(content, condition);
  panel.pose = at(content.poses, condition.pose);
  panel.rests = at(content.supports, condition.support).kind != geometry::SupportKind::air;
  panel.lid = content.device.lid.present;
  panel.lid_angle = condition.lid_given ? *condition.lid_angle : *content.device.lid.angle;
  panel.words.resize(content.device.vents.size());
  panel.flows = vent_flows(result);
  for (const Bent& bent : strips) panel.strips.push_back({bent.vent, bent.still, bent.shape});
  for (std::size_t v = 0; v < panel.words.size(); ++v)
    panel.words[v] =
        strip_words(strips, static_cast<int>(v),
                    !experiment::out_of_reach(result.vents[v], experiment::kUsualDistance), content.units);
  return panel;
}

std::string subtitle_of(const Report& report) {
  const auto wrong = each(report.vents, [&](const experiment::VentSummary& view) {
    return view.at_best == experiment::Finding::wrong ? vent_name(report.content, view.vent) : "";
  });
  if (wrong.empty())
    return "A strip before each vent, " + length_text(experiment::kUsualDistance, report.content.units, 2) +
           " off, as it would hang";
  return "Measured as posed on the right, " + listed(wrong) + " would mislead";
}

}  // namespace

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

std::vector<std::string> write_bench(const BenchRun& run, const ResultsPlace& place) {
  constexpr int kPixels = 1920;
  bench_json(run, {});  // throws before anything begins
  ResultsFolder folder(place);
  folder.write("bench.csv", bench_csv(run));
  folder.write("strips.csv", tell_tales_csv(run));
  folder.draw("bench", bench_figure(run), kPixels);
  folder.write("results.json", bench_json(run, folder.contents()));
  folder.publish();
  return folder.files();
}

std::string bench_figure(const BenchRun& run) {
  const Report& report = run.report;
  figure::BenchDrawing drawing;
  drawing.title = report.content.device.name + ": in use and at the bench";
  drawing.subtitle = subtitle_of(report);
  drawing.device = report.content.device;
  drawing.units = report.content.units;
  drawing.use = panel_of(report, report.use_result, report.bent_use, "In use");
  drawing.bench = panel_of(report, report.bench_result, report.bent_bench, "At the bench");
  drawing.note =
      std::string(
          "Strips of tissue: 10 x 60 mm on a free hinge before upright vents, 10 x 40 mm held out level over "
          "vents that face up or down, ") +
      length_text(experiment::kUsualDistance, report.content.units, 2) + " off. Drawn to scale at a slant. " +
      std::string(kCaution);
  return figure::bench_drawing(drawing);
}

}  // namespace tuft::io
