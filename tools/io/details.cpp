// The short lines below a condition's table.
#include "tools/io/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/io/numbers.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

std::string leak_words(const geometry::Case& content, const study::ConditionResult& result) {
  std::size_t count = 0;
  double in = 0.0;
  double out = 0.0;
  for (const study::VentResult& vent : result.vents) {
    if (!at(content.device.vents, vent.vent).is_leak) continue;
    ++count;
    in += vent.inflow;
    out += vent.outflow;
  }
  if (count == 0) return "";
  return fmt::format("{}, together {} in, {} out", counted(count, "seam"),
                     flow_text(room_volume_flow(in, result), content.units),
                     flow_text(room_volume_flow(out, result), content.units));
}

std::string fan_words(const study::FanResult& fan, UnitSystem units) {
  const std::string name = printable(fan.name);
  const std::string carries =
      fmt::format("{} at {}", flow_text(fan.volume_flow, units), pressure_text(fan.pressure_rise, units));
  if (!fan.running) return fmt::format("{} stopped, {}", name, carries);
  const char* backwards = fan.volume_flow < 0.0 ? ", driven backwards" : "";
  std::string speed_control = fan.speed_control ? " by its table" : "";
  constexpr double kSameSpeed = 0.5;  // [rev/s]
  if (fan.speed_control && std::abs(fan.cooling_speed - fan.speed) > kSameSpeed)
    speed_control += fmt::format(" ({:.0f} rpm if it was hotter before)", 60.0 * fan.cooling_speed);
  return fmt::format("{} {:.0f} rpm{}, {}{}", name, 60.0 * fan.speed, speed_control, carries, backwards);
}

std::string fin_words(const study::FinResult& fin, UnitSystem units) {
  const bool still = std::abs(fin.volume_flow) < 1e-9;  // a thousandth of a millilitre a second
  return fmt::format("{} {}, {} at {}", printable(fin.name), flow_text(still ? 0.0 : fin.volume_flow, units),
                     still ? "standing" : "leaving", temperature_text(fin.temperature, units));
}

constexpr double kLayered = 0.5;  // air so much warmer than the mean [K] is told apart

std::string zones_words(const study::ConditionResult& result, UnitSystem units) {
  return joined(each(result.zones, [&](const study::ZoneResult& zone) {
    const std::string warmest = zone.warmest > zone.temperature + kLayered
                                    ? " (up to " + temperature_text(zone.warmest, units) + ")"
                                    : "";
    return fmt::format("{} {}{}, {}", printable(zone.name), temperature_text(zone.temperature, units),
                       warmest, pressure_text(zone.pressure, units));
  }));
}

std::string balance_words(const study::ConditionResult& result) {
  return fmt::format("air {}, heat {}; {}", closure_text(result.balance.mass),
                     closure_text(result.balance.energy),
                     counted(static_cast<std::size_t>(result.report.iterations), "step"));
}

std::string source_words(const study::SourceResult& source, UnitSystem units) {
  const std::string name = printable(source.name);
  if (!source.has_temperature && source.asked == 0.0) return "";
  if (!source.has_temperature) return fmt::format("{} {}", name, watts(source.power));
  const char* state = word_among(source.state, {"", " (throttled)", " (at its least power)", " (shut down)"});
  return fmt::format("{} {} at {}{}", name, temperature_text(source.temperature, units), watts(source.power),
                     state);
}

std::string skins_words(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<std::string> parts;
  const study::SkinResult* hottest = nullptr;
  for (const study::SkinResult& skin : result.skins) {
    parts.push_back(fmt::format("{} {}{}", printable(at(content.device.skins, skin.skin).name),
                                temperature_text(skin.temperature, content.units),
                                skin.lies_on ? " (covered)" : ""));
    if (!skin.lies_on && (hottest == nullptr || skin.temperature > hottest->temperature)) hottest = &skin;
  }
  if (hottest != nullptr)
    parts.push_back(fmt::format("hottest within reach {}, {}",
                                printable(at(content.device.skins, hottest->skin).name),
                                limit_words(content, *hottest)));
  return joined(parts);
}

std::string edges_words(const geometry::Case& content, const study::ConditionResult& result) {
  return joined(each(result.lid_edges, [&](const study::LidEdgeResult& edge) {
    return fmt::format("lower edge at {} {} in air of {}", shown_vent(content, edge.vent),
                       temperature_text(edge.temperature, content.units),
                       temperature_text(edge.air_temperature, content.units));
  }));
}

std::string ways_words(const study::ConditionResult& result) {
  if (result.power == 0.0) return "";
  return fmt::format("{} with the air, {} through skin, walls and what it lies on",
                     watts(result.heat.with_air), watts(result.heat.through_skin));
}

std::string part_words(const study::PartResult& part, UnitSystem units) {
  return printable(part.name) + " " + temperature_text(part.temperature, units);
}

}  // namespace

std::string detail_lines(const geometry::Case& content, const study::ConditionResult& result,
                         const Look& look) {
  // Words are empty where a device has no such thing.
  const auto of = [&](auto words) {
    return [&content, words](const auto& thing) { return words(thing, content.units); };
  };
  const std::pair<const char*, std::string> subjects[] = {
      {"leaks", leak_words(content, result)},
      {"fans", joined(each(result.fans, of(fan_words)))},
      {"fins", joined(each(result.fins, of(fin_words)))},
      {"zones", zones_words(result, content.units)},
      {"sources", joined(each(result.sources, of(source_words)))},
      {"parts", joined(each(result.parts, of(part_words)))},
      {"skin", skins_words(content, result)},
      {"screen", edges_words(content, result)},
      {"heat", ways_words(result)},
      {"balance", balance_words(result)}};
  std::string text;
  for (const auto& [subject, words] : subjects) {
    if (words.empty()) continue;
    const std::string label = fmt::format("  {:<9}", subject);
    const std::string lines = fill(label, words, look);
    text += inked(label, Ink::faint, look) + lines.substr(label.size());
  }
  return text;
}

}  // namespace tuft::io
