#include "tools/io/csv.hpp"

#include <fmt/format.h>

#include <vector>

#include "tools/io/finite.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::output {
namespace {

const std::vector<std::string>& header() {
  static const std::vector<std::string> names = {"condition",
                                                 "pose",
                                                 "support",
                                                 "load",
                                                 "vent",
                                                 "face",
                                                 "leak",
                                                 "role",
                                                 "firm",
                                                 "share [-]",
                                                 "face velocity [m/s]",
                                                 "gross in [kg/s]",
                                                 "gross out [kg/s]",
                                                 "exchange [kg/s]",
                                                 "temperature in [K]",
                                                 "temperature out [K]",
                                                 "pressure [Pa]",
                                                 "fan head [Pa]",
                                                 "buoyancy head [Pa]",
                                                 "span head [Pa]",
                                                 "neutral level [-]"};
  return names;
}

std::string row(const Run& run, const study::ConditionResult& result, const study::VentResult& vent) {
  const auto& content = run.content;
  const auto& condition = content.conditions[static_cast<std::size_t>(result.condition)];
  const auto& opening = content.device.vents[static_cast<std::size_t>(vent.vent)];
  return csv_line({result.name,
                   content.poses[static_cast<std::size_t>(condition.pose)].name,
                   content.supports[static_cast<std::size_t>(condition.support)].name,
                   content.loads[static_cast<std::size_t>(condition.load)].name,
                   opening.name,
                   geometry::face_word(opening.face),
                   csv_yes_no(opening.is_leak),
                   geometry::role_word(vent.role),
                   csv_yes_no(vent.firm),
                   csv_number(vent.share),
                   csv_number(vent.face_velocity),
                   csv_number(vent.inflow),
                   csv_number(vent.outflow),
                   csv_number(vent.exchange),
                   csv_number(vent.temperature_in),
                   csv_number(vent.temperature_out),
                   csv_number(vent.pressure),
                   csv_number(vent.fan_head),
                   csv_number(vent.buoyancy_head),
                   csv_number(vent.span_head),
                   vent.has_neutral_level ? csv_number(vent.neutral_level) : std::string()});
}

}  // namespace

std::string csv_number(double value) { return fmt::format("{}", value + 0.0); }

std::string csv_yes_no(bool value) { return value ? "yes" : "no"; }

std::string csv_field(const std::string& text) {
  const std::string valid = valid_utf8(text);
  const bool edge_space = !valid.empty() && (valid.front() == ' ' || valid.back() == ' ');
  if (!edge_space && valid.find_first_of(",\"\r\n") == std::string::npos) return valid;
  std::string quoted = "\"";
  for (const char letter : valid) quoted += letter == '"' ? std::string("\"\"") : std::string(1, letter);
  return quoted + "\"";
}

std::string csv_line(const std::vector<std::string>& fields) {
  std::string line;
  for (std::size_t i = 0; i < fields.size(); ++i) line += (i > 0 ? "," : "") + csv_field(fields[i]);
  return line + "\r\n";
}

std::string vents_csv(const Run& run) {
  require_finite(run);
  std::string text = csv_line(header());
  for (const auto& result : run.conditions) {
    if (!result.report.converged) continue;
    for (const auto& vent : result.vents) text += row(run, result, vent);
  }
  return text;
}

}  // namespace tuft::output
