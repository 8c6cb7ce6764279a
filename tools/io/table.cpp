#include "tools/io/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/io/numbers.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using geometry::Role;
using study::VentResult;

constexpr int kIndent = 2;
constexpr int kLongestName = 24;

std::string header_line(const geometry::Case& content, const study::ConditionResult& result,
                        const Look& look) {
  const auto& condition = at(content.conditions, result.condition);
  std::string rest = ": " + circumstances(content, condition);
  if (result.report.converged)
    rest += "; " + significant(result.power, 3, 1) + " W, room " +
            temperature_text(result.ambient_temperature, content.units) + ", " +
            flow_text(room_volume_flow(result.through_flow, result), content.units) + " through";
  return headed(printable(result.name), rest, look);
}

// Temperature of the air that passes: of the room air coming in, of the inside air going out, or of both.
std::string air_text(const VentResult& vent, UnitSystem units) {
  if (vent.role == Role::intake) return temperature_number(vent.temperature_in, units);
  if (vent.role == Role::exhaust) return temperature_number(vent.temperature_out, units);
  if (vent.role == Role::idle) return "-";
  return whole_temperature(vent.temperature_in, units) + "/" + whole_temperature(vent.temperature_out, units);
}

// Who takes in and lets out.
Table who_table(const geometry::Case& content, const study::ConditionResult& result,
                const std::vector<const VentResult*>& vents) {
  const UnitSystem units = content.units;
  const auto flow = [&](double mass_flow) { return flow_number(room_volume_flow(mass_flow, result), units); };
  const char* const flow_name = geometry::flow_unit(units).name;
  Table table{{words("vent"), words("face"), words("role"), numbers("share", "%"),
               numbers("speed", geometry::speed_unit(units).name), numbers("in", flow_name),
               numbers("out", flow_name), numbers("air", geometry::temperature_unit(units).name)}};
  for (const VentResult* vent : vents)
    table.add({shortened(shown_vent(content, vent->vent), kLongestName),
               geometry::face_word(at(content.device.vents, vent->vent).face),
               {role_text(vent->role) + (vent->firm ? "" : " ?"), role_ink(vent->role)},
               significant(100.0 * vent->share, 3, 1),
               speed_number(vent->face_velocity, units),
               flow(vent->inflow),
               flow(vent->outflow),
               air_text(*vent, units)});
  return table;
}

// The pressures that make the air move, inside against the still air outside: minus draws in, plus blows out.
Table why_table(const std::vector<const VentResult*>& vents, UnitSystem units) {
  const auto head = [&](double pascal) { return pressure_number(pascal, units); };
  const char* const unit = geometry::pressure_unit(units).name;
  Table table{{numbers("fan head", unit), numbers("buoyancy head", unit), numbers("span head", unit)}};
  for (const VentResult* vent : vents)
    table.add({head(vent->fan_head), head(vent->buoyancy_head), head(vent->span_head)});
  return table;
}

std::string vent_tables(const geometry::Case& content, const study::ConditionResult& result,
                        const Look& look) {
  std::vector<const VentResult*> vents;
  for (const VentResult& vent : result.vents)
    if (!at(content.device.vents, vent.vent).is_leak) vents.push_back(&vent);
  if (vents.empty()) return "";
  std::vector<Column> who = who_table(content, result, vents).columns,
                      why = why_table(vents, content.units).columns;
  std::vector<Column> all = who;
  all.insert(all.end(), why.begin(), why.end());
  std::string text;
  if (layout_width(all) + kIndent <= look.width) {
    text = lay_out(all, kIndent, look);
  } else {
    why.insert(why.begin(), who.front());
    narrow_names(who, kIndent, look);
    narrow_names(why, kIndent, look);
    text = lay_out(who, kIndent, look) + "\n" + lay_out(why, kIndent, look);
  }
  if (std::any_of(vents.begin(), vents.end(), [](const VentResult* vent) { return !vent->firm; }))
    text += fill("  ? ",
                 fmt::format("not firm: the role changes if the thresholds are {} times larger or smaller",
                             significant(content.thresholds.margin, 2)),
                 look);
  return text;
}

}  // namespace

std::string condition_text(const geometry::Case& content, const study::ConditionResult& result,
                           const Look& look) {
  std::string text = header_line(content, result, look);
  if (!result.report.converged)
    return text + fill("  ", "No solution: " + printable(result.report.reason), look);
  text += fill("  ", summary_sentence(content, result), look);
  for (const auto& warnings :
       {state_warnings(content, result), heat_warnings(content, result), range_notes(result)})
    for (const std::string& warning : warnings) text += fill("  ! ", warning, look);
  text += "\n";
  text += vent_tables(content, result, look) + "\n";
  return text + detail_lines(content, result, look);
}

std::string reading_help(const Look& look) {
  return fill(
      "",
      "Heads at a vent are pressures inside, relative to the still air outside: by fans (fan head) and "
      "by warm air (buoyancy head). Minus draws in, plus blows out. The span head is what warm air "
      "adds between the vent's lowest and highest edge. Flows at vents are volumes of room air, those of "
      "fans and "
      "fins volumes of the air in them. Shares are of all the air that comes in.",
      look);
}

}  // namespace tuft::io
