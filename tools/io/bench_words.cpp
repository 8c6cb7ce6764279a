#include <fmt/format.h>

#include <algorithm>

#include "solver/numerics/constants.hpp"
#include "tools/io/bench.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {

using experiment::Finding;
using experiment::TrapKind;

std::string finding_text(Finding finding) {
  static constexpr std::pair<Finding, const char*> words[] = {{Finding::right, "shows it"},
                                                              {Finding::nothing, "shows nothing"},
                                                              {Finding::wrong, "misleads"},
                                                              {Finding::no_reach, "out of reach"}};
  return word_in(words, finding);
}

std::string finding_word(Finding finding) {
  std::string word = finding_text(finding);
  std::replace(word.begin(), word.end(), ' ', '-');
  return word;
}

const char* cause_word(experiment::Cause cause) {
  static constexpr std::pair<experiment::Cause, const char*> words[] = {
      {experiment::Cause::none, "none"},
      {experiment::Cause::front, "front"},
      {experiment::Cause::fans, "fans"},
      {experiment::Cause::buoyancy, "buoyancy"},
      {experiment::Cause::buoyancy_in_height, "buoyancy-in-height"}};
  return word_in(words, cause);
}

const char* trap_word(TrapKind kind) {
  static constexpr std::pair<TrapKind, const char*> words[] = {{TrapKind::wrong_sign, "wrong-sign"},
                                                               {TrapKind::buoyancy, "buoyancy"},
                                                               {TrapKind::two_ways, "two-ways"},
                                                               {TrapKind::weak, "weak"},
                                                               {TrapKind::stiff, "stiff"},
                                                               {TrapKind::touch, "touch"},
                                                               {TrapKind::out_of_reach, "out-of-reach"},
                                                               {TrapKind::infrared, "infrared"}};
  return word_in(words, kind);
}

const char* seen_word(physics::Seen seen) {
  static constexpr std::pair<physics::Seen, const char*> words[] = {
      {physics::Seen::clearly, "moves-clearly"},
      {physics::Seen::hardly, "moves-hardly"},
      {physics::Seen::not_at_all, "does-not-move"}};
  return word_in(words, seen);
}

const char* part_word(experiment::Part part) {
  static constexpr std::pair<experiment::Part, const char*> words[] = {{experiment::Part::middle, "middle"},
                                                                       {experiment::Part::upper, "upper"},
                                                                       {experiment::Part::lower, "lower"}};
  return word_in(words, part);
}

const experiment::AirPoint* air_at(const std::vector<experiment::AirPoint>& air, double distance) {
  const auto found =
      std::find_if(air.begin(), air.end(), [&](const auto& point) { return point.distance == distance; });
  return found == air.end() ? nullptr : &*found;
}

std::string set_up_text(const experiment::Report& report, const experiment::SetUp& set_up) {
  const geometry::Case& content = report.content;
  const auto& condition = at(content.conditions, set_up.condition);
  const auto& support = at(content.supports, condition.support);
  const std::string held =
      support.kind == geometry::SupportKind::air ? "hung or held free on all sides" : "on " + support.name;
  const auto& load = at(content.loads, condition.load);
  std::string fans;
  for (const auto& fan : load.fans) {
    const std::string name = at(content.device.fans, fan.fan).name;
    const bool turns = fan.state == geometry::FanState::running && *fan.speed > 0.0;
    fans += (fans.empty() ? "" : ", ") + name +
            (turns ? fmt::format(" at {:.0f} rpm", 60.0 * *fan.speed) : std::string(" stopped"));
  }
  std::string text = at(content.poses, condition.pose).name + ", " + held;
  text += set_up.cold ? ", cold (no load)" : ", load " + load.name;
  if (set_up.cold && !fans.empty()) text += "; fans forced: " + fans;
  return text;
}

std::string infrared_text(const experiment::Report& report) {
  std::string text = "Infrared sees surfaces, never the air or which way it goes.";
  for (const experiment::SpotView& spot : report.spots) {
    text += " " + (spot.name == spot.on ? spot.on : "Spot " + spot.name + " (" + spot.on + ")") + ": ";
    text += spot.reading.possible
                ? fmt::format("{} ± {} K (computed: {}).", temperature_text(spot.reading.value),
                              significant(numerics::kDeviations95 * spot.reading.sigma, 2),
                              temperature_text(spot.truth))
                : "refused, " + spot.reading.reason + ".";
  }
  return text;
}

}  // namespace tuft::io
