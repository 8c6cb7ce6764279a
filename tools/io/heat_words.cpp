#include "tools/io/heat_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "geometry/device/condition.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

using heat::SourceState;
using study::SkinResult;
using study::SourceResult;

std::string watts(double power) { return significant(power, 3, 2) + " W"; }

std::string source_words(const SourceResult& source) {
  const std::string name = printable(source.name);
  if (!source.has_temperature) return fmt::format("{} {}", name, watts(source.power));
  const char* state = source.state == SourceState::throttled   ? " (throttled)"
                      : source.state == SourceState::starved   ? " (at its least power)"
                      : source.state == SourceState::shut_down ? " (shut down)"
                                                               : "";
  return fmt::format("{} {} at {}{}", name, temperature_text(source.temperature), watts(source.power), state);
}

std::string source_warning(const SourceResult& source) {
  const std::string name = printable(source.name);
  switch (source.state) {
    case SourceState::full:
      break;
    case SourceState::throttled:
      return fmt::format("{} throttles: held at {}, it takes {} of the {} asked for.", name,
                         temperature_text(source.throttles_at), watts(source.power), watts(source.asked));
    case SourceState::starved:
      return fmt::format(
          "{} is at its least power, {}, and still gets {}, above the {} at which it throttles.", name,
          watts(source.power), temperature_text(source.temperature), temperature_text(source.throttles_at));
    case SourceState::shut_down:
      return fmt::format("{} shuts down: on the least it can take it would pass {}. Its power is off here.",
                         name, temperature_text(source.shuts_down_at));
  }
  return "";
}

const geometry::Skin& skin_of(const geometry::Case& content, const SkinResult& skin) {
  return content.device.skins[static_cast<std::size_t>(skin.skin)];
}

std::string skins_words(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<std::string> parts;
  const SkinResult* hottest = nullptr;
  for (const SkinResult& skin : result.skins) {
    parts.push_back(fmt::format("{} {}{}", printable(skin_of(content, skin).name),
                                temperature_text(skin.temperature), skin.lies_on ? " (covered)" : ""));
    if (!skin.lies_on && (hottest == nullptr || skin.temperature > hottest->temperature)) hottest = &skin;
  }
  if (hottest != nullptr)
    parts.push_back(fmt::format("hottest within reach {}, {}", printable(skin_of(content, *hottest).name),
                                limit_words(content, *hottest)));
  return joined(parts);
}

std::string edges_words(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<std::string> parts;
  for (const study::LidEdgeResult& edge : result.lid_edges)
    parts.push_back(fmt::format("lower edge at {} {} in air of {}",
                                printable(content.device.vents[static_cast<std::size_t>(edge.vent)].name),
                                temperature_text(edge.temperature), temperature_text(edge.air_temperature)));
  return joined(parts);
}

std::string ways_words(const study::ConditionResult& result) {
  if (result.power == 0.0) return "";
  return fmt::format("{} with the air, {} through skin, walls and what it lies on",
                     watts(result.heat.with_air), watts(result.heat.through_skin));
}

}  // namespace

std::vector<std::string> heat_warnings(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<std::string> warnings;
  for (const SourceResult& source : result.sources) {
    const std::string warning = source_warning(source);
    if (!warning.empty()) warnings.push_back(warning);
  }
  for (const SkinResult& skin : result.skins) {
    if (!is_above_limit(skin)) continue;
    warnings.push_back(fmt::format("{} gets {}, above the {}. This is no safety assessment.",
                                   printable(skin_of(content, skin).name), temperature_text(skin.temperature),
                                   limit_words(content, skin)));
  }
  return warnings;
}

std::vector<std::pair<std::string, std::string>> heat_subjects(const geometry::Case& content,
                                                               const study::ConditionResult& result) {
  std::vector<std::string> sources;
  for (const SourceResult& source : result.sources) {
    if (source.has_temperature || source.asked != 0.0) sources.push_back(source_words(source));
  }
  std::vector<std::string> parts;
  for (const study::PartResult& part : result.parts)
    parts.push_back(printable(part.name) + " " + temperature_text(part.temperature));
  return {{"sources", joined(sources)},
          {"parts", joined(parts)},
          {"skin", skins_words(content, result)},
          {"screen", edges_words(content, result)},
          {"heat", ways_words(result)}};
}

bool is_above_limit(const study::SkinResult& skin) { return !skin.lies_on && skin.temperature > skin.limit; }

std::string limit_words(const geometry::Case& content, const SkinResult& skin) {
  const geometry::Skin& patch = skin_of(content, skin);
  return fmt::format("published limit for {} touched {}: {}{}", geometry::word_of(patch.material),
                     duration_text(*patch.contact), temperature_text(skin.limit),
                     skin.limit_seen ? "" : " (from memory)");
}

std::string duration_text(double seconds) {
  if (seconds < 1.0) return "under 1 s";
  if (seconds < 90.0) return significant(seconds, 2, 0) + " s";
  if (seconds < 5400.0) return significant(seconds / 60.0, 2, 0) + " min";
  return significant(seconds / 3600.0, 2, 0) + " h";
}

}  // namespace tuft::output
