#include "geometry/device/lists.hpp"
#include "tools/io/bench.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/io/numbers.hpp"
#include "tools/io/table.hpp"

namespace tuft::io {
namespace {

using experiment::Report;
using experiment::TellTaleView;
using experiment::VentSummary;

std::string short_vent(const Report& report, int vent) {
  return shortened(shown_vent(report.content, vent), 20);
}

Ink finding_ink(experiment::Finding finding) {
  return word_among(finding, {Ink::green, Ink::yellow, Ink::red, Ink::yellow});
}

std::string net_cell(double mass_flow, const study::ConditionResult& result, UnitSystem units) {
  return signed_significant(geometry::flow_unit(units).of(room_volume_flow(mass_flow, result)), 3, 5);
}

// "17 out", "0.3 in", "-" where it can't be held.
std::string lean_cell(const TellTaleView& view, UnitSystem units) {
  if (!view.usable) return "-";
  if (view.flutters) return "flutters";
  return lean_number(view.lean, units) + (hangs_still(view.lean) ? "" : view.lean > 0.0 ? " out" : " in");
}

std::string percent_pair(const experiment::LeanChances& chances) {
  return fmt::format("{:.0f}/{:.0f}/{:.0f}", 100.0 * chances.in, 100.0 * chances.out, 100.0 * chances.still);
}

std::string speed_cell(const std::optional<double>& speed, UnitSystem units) {
  return speed ? speed_number(*speed, units, 2) : "-";
}

// Which way the air goes there: by its largest part.
std::string way_word(const experiment::AirPoint& point) {
  if (point.speed < 1e-4) return "still";
  if (std::abs(point.outwards) >= 0.7 * point.speed) return point.outwards > 0.0 ? "out" : "in";
  if (std::abs(point.upwards) >= 0.7 * point.speed) return point.upwards > 0.0 ? "up" : "down";
  return "aside";
}

std::string outwards_cell(const std::vector<experiment::AirPoint>& air, double distance, UnitSystem units) {
  const experiment::AirPoint* point = air_at(air, distance);
  return point == nullptr ? "-" : signed_significant(geometry::speed_unit(units).of(point->outwards), 2, 4);
}

// Air along the outward normal at a few distances, and its way 20 mm off.
std::vector<Column> air_columns(const Report& report) {
  std::vector<Column> columns;
  const UnitSystem units = report.content.units;
  const std::string heading = std::string("air, ") + geometry::speed_unit(units).name + " out";
  for (const double distance : {0.005, 0.02, 0.08, 0.16}) {
    Column column{columns.empty() ? heading : "", length_text(distance, units, 2), {}, true};
    for (const VentSummary& view : report.vents)
      column.cells.push_back(outwards_cell(view.air, distance, units));
    columns.push_back(column);
  }
  Column way{"way at", length_text(experiment::kUsualDistance, units, 2), {}};
  for (const VentSummary& view : report.vents) {
    const experiment::AirPoint* point = air_at(view.air, experiment::kUsualDistance);
    way.cells.push_back(point == nullptr ? "-" : way_word(*point));
  }
  columns.push_back(way);
  return columns;
}

}  // namespace

std::string vents_table(const Report& report, const Look& look) {
  const UnitSystem units = report.content.units;
  const std::string in = std::string(geometry::flow_unit(units).name) + " in";
  const char* const pressure = geometry::pressure_unit(units).name;
  Table flows{{words("vent"), words("use -> bench"), numbers("use", in), numbers("bench", in),
               numbers("fan head", pressure), numbers("buoyancy head", pressure),
               numbers("span head", pressure)}};
  Table answers{{words("paper by hand"), words("best strip hung")}};
  for (const VentSummary& view : report.vents) {
    const study::VentResult& heads = at(report.bench_result.vents, view.vent);
    flows.add({short_vent(report, view.vent),
               {role_step(view.change), view.change.role_changes ? Ink::red : Ink::plain},
               net_cell(view.net_use, report.use_result, units),
               net_cell(view.net_bench, report.bench_result, units),
               pressure_number(heads.fan_head, units),
               pressure_number(heads.buoyancy_head, units),
               pressure_number(heads.span_head, units)});
    answers.add({{finding_text(view.by_hand), finding_ink(view.by_hand)},
                 {finding_text(view.at_best), finding_ink(view.at_best)}});
  }
  const std::string text = lay_out(flows.columns, 2, look);
  std::vector<Column> findings = air_columns(report);
  findings.insert(findings.begin(), flows.columns.front());
  findings.insert(findings.end(), answers.columns.begin(), answers.columns.end());
  return text + "\n" + lay_out(findings, 2, look);
}

std::string section_table(const Report& report, const Look& look) {
  if (!report.section) return "";
  const experiment::SectionUsed& used = *report.section;
  const UnitSystem units = report.content.units;
  const std::string where =
      fmt::format("{} = {}", "xyz"[used.plane.normal], length_text(used.plane.at, units));
  Column vent{"in the section " + where, "", {}};
  std::vector<Column> columns;
  const std::vector<double> distances = {0.005, 0.01, 0.02, 0.04, 0.08};
  for (const double distance : distances) {
    columns.push_back({length_text(distance, units, 3), "law", {}, true});
    columns.push_back(numbers("", "section"));
  }
  for (const VentSummary& view : report.vents) {
    if (view.air_in_section.empty()) continue;
    vent.cells.push_back(short_vent(report, view.vent));
    std::size_t column = 0;
    for (const double distance : distances)
      for (const auto* air : {&view.air, &view.air_in_section})
        columns[column++].cells.push_back(outwards_cell(*air, distance, units));
  }
  if (vent.cells.empty())
    return fill("  ",
                "The cross-section " + where +
                    " cuts no vent that can be reached: all air speeds come from the laws.",
                look);
  columns.insert(columns.begin(), vent);
  while (layout_width(columns) + 2 > look.width && columns.size() > 3) columns.resize(columns.size() - 2);
  return lay_out(columns, 2, look) +
         fill("  ",
              std::string("Air speed outwards, in ") + geometry::speed_unit(units).name +
                  ". The cross-section treats a vent as endless across the plane and "
                  "includes what stands in the way. The laws include the vent's width but nothing around it. "
                  "Strips in the plane lean as the cross-section says. " +
                  printable(used.how) + ".",
              look);
}

std::string strips_table(const Report& report, const Look& look) {
  const UnitSystem units = report.content.units;
  Column vent{"strips " + length_text(experiment::kUsualDistance, units, 2) + " off lean",
              geometry::length_unit(units).name,
              {}},
      part{"part", "", {}};
  std::vector<Column> columns;
  std::vector<std::string> order = {"tissue-60",  "paper-150",       "wool-150", "silk-100",
                                    "tissue-150", "tissue-40-level", "paper-60"};
  for (const experiment::NamedTellTale& cut : experiment::tell_tale_kit())
    if (!geometry::contains(order, cut.name)) order.push_back(cut.name);
  for (const std::string& name : order) columns.push_back({name, "", {}});
  Column chances{"best: in/out/still", "%", {}};
  for (const VentSummary& view : report.vents) {
    std::vector<experiment::Part> parts;
    for (const TellTaleView& one : view.tell_tales)
      if (!geometry::contains(parts, one.part)) parts.push_back(one.part);
    for (const experiment::Part which : parts) {
      vent.cells.push_back(short_vent(report, view.vent));
      part.cells.push_back(part_word(which));
      const TellTaleView* best = nullptr;
      for (const TellTaleView& one : view.tell_tales) {
        if (one.part != which) continue;
        for (std::size_t c = 0; c < columns.size(); ++c)
          if (order[c] == one.cut->name) columns[c].cells.push_back(lean_cell(one, units));
        const bool counts = one.usable && one.cut->advised && !one.flutters;
        if (counts && (best == nullptr || one.over > best->over)) best = &one;
      }
      chances.cells.push_back(best == nullptr ? "-" : percent_pair(best->hung));
    }
  }
  if (vent.cells.empty()) return fill("  ", "No vent can be reached with a strip.", look);
  std::vector<Column> shown = {vent, part};
  for (const Column& column : columns) {
    const bool any = std::any_of(column.cells.begin(), column.cells.end(),
                                 [](const std::string& cell) { return cell != "-"; });
    if (any) shown.push_back(column);
  }
  shown.push_back(chances);
  // In a look too narrow the lesser ones go first; the files have all.
  while (layout_width(shown) + 2 > look.width && shown.size() > 4) shown.erase(shown.end() - 2);
  return lay_out(shown, 2, look);
}

std::string ranking_table(const Report& report, const Look& look) {
  const UnitSystem units = report.content.units;
  const char* const unit = geometry::speed_unit(units).name;
  Table table{{words("what shows the slowest air"), numbers("hardly", unit), numbers("clearly", unit),
               numbers("in the hand", unit), numbers("flutters from", unit), words("")}};
  for (const experiment::Ranked& entry : report.ranking)
    table.add({entry.cut->words, speed_cell(entry.hardly, units), speed_cell(entry.clearly, units),
               speed_cell(entry.by_hand, units), speed_number(entry.flutter.speed, units, 2),
               shortened(entry.cut->mind, 40)});
  if (layout_width(table.columns) + 2 > look.width) table.columns.pop_back();
  return lay_out(table.columns, 2, look);
}

std::string instruments_text(const Report& report, const Look& look) {
  const UnitSystem units = report.content.units;
  std::string text;
  for (const VentSummary& view : report.vents) {
    const auto words = each(view.instruments, [&](const experiment::InstrumentView& one) -> std::string {
      if (!one.reading.possible) return "";
      std::string word = one.reading.detection < 0.5
                             ? one.name + " does not respond"
                             : fmt::format("{} {} ± {}", one.name, speed_number(one.reading.value, units, 2),
                                           speed_text(1.96 * one.reading.sigma, units, 2));
      if (one.solved && one.flow_left < 0.97)
        word += fmt::format(" (leaves {} of the flow{})", percent_text(one.flow_left),
                            one.role_changes ? ", and changes its role" : "");
      return word;
    });
    if (!words.empty())
      text += fill("  " + short_vent(report, view.vent) + ", " + length_text(0.01, units, 2) + " off: ",
                   study::listed(words) + ".", look);
  }
  return text;
}

}  // namespace tuft::io
