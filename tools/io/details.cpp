#include "tools/io/details.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include <utility>
#include <vector>

#include "tools/io/grid.hpp"
#include "tools/io/heat_words.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

std::string leak_words(const geometry::Case& content, const study::ConditionResult& result) {
  std::size_t count = 0;
  double in = 0.0;
  double out = 0.0;
  for (const study::VentResult& vent : result.vents) {
    if (!content.device.vents[static_cast<std::size_t>(vent.vent)].is_leak) continue;
    ++count;
    in += vent.inflow;
    out += vent.outflow;
  }
  if (count == 0) return "";
  return fmt::format("{}, together {} in, {} out", counted(count, "seam"),
                     flow_text(room_volume_flow(in, result)), flow_text(room_volume_flow(out, result)));
}

std::string fan_words(const study::FanResult& fan) {
  const std::string name = printable(fan.name);
  const std::string carries =
      fmt::format("{} at {}", flow_text(fan.volume_flow), pressure_text(fan.pressure_rise));
  if (!fan.running) return fmt::format("{} stopped, {}", name, carries);
  const char* backwards = fan.volume_flow < 0.0 ? ", driven backwards" : "";
  std::string follows = fan.follows ? " by its table" : "";
  constexpr double kSameSpeed = 0.5;  // [rev/s]
  if (fan.follows && std::abs(fan.cooling_speed - fan.speed) > kSameSpeed)
    follows += fmt::format(" ({:.0f} rpm if it was hotter before)", 60.0 * fan.cooling_speed);
  return fmt::format("{} {:.0f} rpm{}, {}{}", name, 60.0 * fan.speed, follows, carries, backwards);
}

std::string fans_words(const study::ConditionResult& result) {
  std::vector<std::string> parts;
  for (const study::FanResult& fan : result.fans) parts.push_back(fan_words(fan));
  return joined(parts);
}

std::string fins_words(const study::ConditionResult& result) {
  std::vector<std::string> parts;
  for (const study::FinResult& fin : result.fins) {
    const bool still = std::abs(fin.volume_flow) < 1e-9;  // a thousandth of a millilitre a second
    parts.push_back(fmt::format("{} {}, {} at {}", printable(fin.name),
                                flow_text(still ? 0.0 : fin.volume_flow), still ? "standing" : "leaving",
                                temperature_text(fin.temperature)));
  }
  return joined(parts);
}

std::string zones_words(const study::ConditionResult& result) {
  double largest = 0.0;
  for (const study::ZoneResult& zone : result.zones) largest = std::max(largest, std::abs(zone.pressure));
  const PressureUnit unit = pressure_unit(largest);
  std::vector<std::string> parts;
  for (const study::ZoneResult& zone : result.zones) {
    parts.push_back(fmt::format("{} {}, {} {}", printable(zone.name), temperature_text(zone.temperature),
                                signed_significant(unit.per_pascal * zone.pressure, 3, 2), unit.name));
  }
  return joined(parts);
}

std::string balance_words(const study::ConditionResult& result) {
  return fmt::format("air {}, heat {}; {}", closure_text(result.balance.mass),
                     closure_text(result.balance.energy),
                     counted(static_cast<std::size_t>(result.report.iterations), "step"));
}

}  // namespace

std::string detail_lines(const geometry::Case& content, const study::ConditionResult& result,
                         const Look& look) {
  std::vector<std::pair<std::string, std::string>> subjects = {{"leaks", leak_words(content, result)},
                                                               {"fans", fans_words(result)},
                                                               {"fins", fins_words(result)},
                                                               {"zones", zones_words(result)}};
  for (auto& subject : heat_subjects(content, result)) subjects.push_back(std::move(subject));
  subjects.emplace_back("balance", balance_words(result));
  std::string text;
  for (const auto& [subject, words] : subjects) {
    if (words.empty()) continue;
    const std::string label = fmt::format("  {:<9}", subject);
    const std::string lines = fill(label, words, look.width);
    text += inked(label, Ink::faint, look) + lines.substr(label.size());
  }
  return text;
}

}  // namespace tuft::output
