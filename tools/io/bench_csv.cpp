#include <fmt/format.h>

#include <cmath>

#include "tools/io/bench.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/finite.hpp"

namespace tuft::output {
namespace {

// Written so that it reads back exactly.
std::string finite_number(double value) {
  if (!std::isfinite(value)) throw NotFinite("a finite_number of the bench is not finite");
  return fmt::format("{}", value + 0.0);
}

const std::string& name_of(const bench::Report& report, int vent) {
  return report.content.device.vents[static_cast<std::size_t>(vent)].name;
}

}  // namespace

std::string bench_csv(const BenchRun& run) {
  const bench::Report& report = run.report;
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
                               "traps"});
  for (const bench::VentView& view : report.vents) {
    const study::VentResult& flows = report.bench_result.vents[static_cast<std::size_t>(view.vent)];
    std::vector<std::string> row = {name_of(report, view.vent), geometry::role_word(view.change.from),
                                    geometry::role_word(view.change.to), geometry::role_word(view.cold_role),
                                    geometry::role_word(view.forced_role)};
    for (const double value : {view.net_use, view.net_bench, view.net_cold, view.net_forced, flows.fan_head,
                               flows.buoyancy_head, flows.span_head})
      row.push_back(finite_number(value));
    row.push_back(cause_word(view.cause));
    std::vector<std::string> air = {"", "", ""};
    for (const bench::AirPoint& point : view.air)
      if (point.distance == 0.02)
        air = {finite_number(point.outwards), finite_number(point.speed), finite_number(point.temperature)};
    row.insert(row.end(), air.begin(), air.end());
    std::vector<std::string> in_section = {"", ""};
    for (const bench::AirPoint& point : view.air_in_section)
      if (point.distance == 0.02)
        in_section = {finite_number(point.outwards), finite_number(point.temperature)};
    row.insert(row.end(), in_section.begin(), in_section.end());
    row.push_back(view.air.empty() ? "" : finite_number(view.hand.value));
    row.push_back(finding_word(view.by_hand));
    row.push_back(finite_number(view.right_by_hand));
    row.push_back(finding_word(view.at_best));
    row.push_back(finite_number(view.right_at_best));
    std::string traps;
    for (const bench::Trap& trap : view.traps)
      traps += (traps.empty() ? "" : " ") + std::string(trap_word(trap.kind));
    row.push_back(traps);
    text += csv_line(row);
  }
  return text;
}

std::string tell_tales_csv(const BenchRun& run) {
  const bench::Report& report = run.report;
  std::string text =
      csv_line({"vent", "part", "tell-tale", "as cut", "usable", "air [m/s]", "air by law [m/s]", "read off",
                "lean away [m]", "seen hung", "hung: in [-]", "hung: out [-]", "hung: still [-]",
                "hand-held: in [-]", "hand-held: out [-]", "hand-held: still [-]", "flutters"});
  for (const bench::VentView& view : report.vents) {
    for (const bench::TellTaleView& one : view.tell_tales) {
      std::vector<std::string> row = {name_of(report, view.vent), part_word(one.part), one.cut->name,
                                      one.cut->words, one.usable ? "yes" : "no"};
      if (!one.usable) {
        row.resize(17);
      } else {
        row.push_back(finite_number(one.speed));
        row.push_back(finite_number(one.by_law));
        row.push_back(one.by_section ? "section" : "law");
        row.push_back(finite_number(one.lean));
        row.push_back(seen_word(one.seen));
        for (const bench::LeanChances* chances : {&one.hung, &one.held})
          for (const double value : {chances->in, chances->out, chances->still})
            row.push_back(finite_number(value));
        row.push_back(one.flutters ? "yes" : "no");
      }
      text += csv_line(row);
    }
  }
  return text;
}

}  // namespace tuft::output
