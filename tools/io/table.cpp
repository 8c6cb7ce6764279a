#include "tools/io/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using geometry::Role;
using study::VentResult;

constexpr int kIndent = 2;
constexpr int kLongestName = 24;
using numerics::kZeroCelsius;
constexpr double kSmallFlow = 1e-4;  // [m3/s], below it millilitres are easier to read

std::string header_line(const geometry::Case& content, const study::ConditionResult& result,
                        const Look& look) {
  const auto& condition = at(content.conditions, result.condition);
  std::string rest = ": " + circumstances(content, condition);
  if (result.report.converged) {
    rest += "; " + significant(result.power, 3, 1) + " W, room " +
            temperature_text(result.ambient_temperature) + ", " +
            flow_text(room_volume_flow(result.through_flow, result)) + " through";
  }
  const std::string name = printable(result.name);
  std::string line = fill("", name + rest, look);
  if (line.compare(0, name.size(), name) == 0) line.replace(0, name.size(), inked(name, Ink::strong, look));
  return line;
}

// Temperature of the air that passes: of the room air coming in, of the inside air going out, or of both.
std::string air_text(const VentResult& vent) {
  switch (vent.role) {
    case Role::intake:
      return celsius(vent.temperature_in);
    case Role::exhaust:
      return celsius(vent.temperature_out);
    case Role::both_ways:
      return fmt::format("{:.0f}/{:.0f}", vent.temperature_in - kZeroCelsius,
                         vent.temperature_out - kZeroCelsius);
    case Role::idle:
      return "-";
  }
  return "";
}

struct Rows {
  std::vector<const VentResult*> vents;
  std::vector<Ink> inks;
};

Rows rows_of(const geometry::Case& content, const study::ConditionResult& result) {
  Rows rows;
  for (const VentResult& vent : result.vents) {
    if (at(content.device.vents, vent.vent).is_leak) continue;
    rows.vents.push_back(&vent);
    rows.inks.push_back(role_ink(vent.role));
  }
  return rows;
}

template <typename TextOf>
Column column(const Rows& rows, const std::string& heading, const std::string& unit, bool number,
              TextOf text_of) {
  Column result{heading, unit, {}, number};
  for (const VentResult* vent : rows.vents) result.cells.push_back(text_of(*vent));
  return result;
}

Column name_column(const geometry::Case& content, const Rows& rows) {
  return column(rows, "vent", "", false, [&](const VentResult& vent) {
    return shortened(shown_vent(content, vent.vent), kLongestName);
  });
}

struct FlowUnit {
  const char* name;
  double per_cubic_metre;
};

// One unit for all vents of a condition, so that they can be compared down the column.
FlowUnit flow_unit(const study::ConditionResult& result, const Rows& rows) {
  double largest = 0.0;
  for (const VentResult* vent : rows.vents) largest = std::max({largest, vent->inflow, vent->outflow});
  return room_volume_flow(largest, result) < kSmallFlow ? FlowUnit{"mL/s", 1e6} : FlowUnit{"L/s", 1e3};
}

std::vector<Column> who_columns(const geometry::Case& content, const study::ConditionResult& result,
                                const Rows& rows) {
  const FlowUnit unit = flow_unit(result, rows);
  const auto flow = [&](double mass_flow) {
    return significant(unit.per_cubic_metre * room_volume_flow(mass_flow, result), 3, 3);
  };
  std::vector<Column> columns;
  columns.push_back(name_column(content, rows));
  columns.push_back(column(rows, "face", "", false, [&](const VentResult& vent) {
    return std::string(geometry::face_word(at(content.device.vents, vent.vent).face));
  }));
  columns.push_back(column(rows, "role", "", false, [](const VentResult& vent) {
    return role_text(vent.role) + (vent.firm ? "" : " ?");
  }));
  columns.back().inks = rows.inks;
  columns.push_back(column(rows, "share", "%", true,
                           [](const VentResult& vent) { return significant(100.0 * vent.share, 3, 1); }));
  columns.push_back(column(rows, "speed", "cm/s", true, [](const VentResult& vent) {
    return significant(100.0 * vent.face_velocity, 3, 2);
  }));
  columns.push_back(column(rows, "in", unit.name, true, [&](const VentResult& v) { return flow(v.inflow); }));
  columns.push_back(
      column(rows, "out", unit.name, true, [&](const VentResult& v) { return flow(v.outflow); }));
  columns.push_back(column(rows, "air", "°C", true, air_text));
  return columns;
}

// The pressures that make the air move, inside against the still air outside: minus draws in, plus blows out.
// One unit for all, so that fans and warm air can be compared.
std::vector<Column> why_columns(const Rows& rows) {
  double largest = 0.0;
  for (const VentResult* vent : rows.vents)
    largest = std::max(
        {largest, std::abs(vent->fan_head), std::abs(vent->buoyancy_head), std::abs(vent->span_head)});
  const PressureUnit unit = pressure_unit(largest);
  const auto head = [&](const std::string& heading, double VentResult::*which) {
    return column(rows, heading, unit.name, true, [&](const VentResult& vent) {
      return signed_significant(unit.per_pascal * (vent.*which), 3, 4);
    });
  };
  return {head("by fans", &VentResult::fan_head), head("by warm air", &VentResult::buoyancy_head),
          head("over its height", &VentResult::span_head)};
}

std::string vent_tables(const geometry::Case& content, const study::ConditionResult& result,
                        const Look& look) {
  const Rows rows = rows_of(content, result);
  if (rows.vents.empty()) return "";
  std::vector<Column> who = who_columns(content, result, rows);
  std::vector<Column> why = why_columns(rows);
  std::vector<Column> all = who;
  all.insert(all.end(), why.begin(), why.end());
  std::string text;
  if (layout_width(all) + kIndent <= look.width) {
    text = lay_out(all, kIndent, look);
  } else {
    why.insert(why.begin(), name_column(content, rows));
    narrow_names(who, kIndent, look);
    narrow_names(why, kIndent, look);
    text = lay_out(who, kIndent, look) + "\n" + lay_out(why, kIndent, look);
  }
  const bool doubtful =
      std::any_of(rows.vents.begin(), rows.vents.end(), [](const VentResult* vent) { return !vent->firm; });
  if (doubtful) {
    text += fill("  ? ",
                 fmt::format("not firm: with thresholds {} times larger or smaller the role is another",
                             significant(content.thresholds.margin, 2)),
                 look);
  }
  return text;
}

}  // namespace

std::string condition_text(const geometry::Case& content, const study::ConditionResult& result,
                           const Look& look) {
  std::string text = header_line(content, result, look);
  if (!result.report.converged) {
    return text + fill("  ", "No solution: " + printable(result.report.reason), look);
  }
  text += fill("  ", summary_sentence(content, result), look);
  for (const std::string& warning : state_warnings(content, result)) text += fill("  ! ", warning, look);
  for (const std::string& warning : heat_warnings(content, result)) text += fill("  ! ", warning, look);
  for (const std::string& note : range_notes(result)) text += fill("  ! ", note, look);
  text += "\n";
  text += vent_tables(content, result, look) + "\n";
  return text + detail_lines(content, result, look);
}

std::string reading_help(const Look& look) {
  return fill("",
              "Pressures at a vent are those inside against the still air outside, from fans and from warm "
              "air: minus draws in, plus blows out. \"Over its height\" is what warm air adds from the "
              "vent's lowest to its highest edge. Volumes at vents are of room air, those of fans and fins "
              "of the air in them; shares are of all the air that comes in.",
              look);
}

}  // namespace tuft::io
