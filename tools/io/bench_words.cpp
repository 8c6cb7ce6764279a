#include <fmt/format.h>

#include "solver/numerics/constants.hpp"
#include "tools/io/bench.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {

using bench::Finding;
using bench::TrapKind;

std::string finding_text(Finding finding) {
  switch (finding) {
    case Finding::right:
      return "shows it";
    case Finding::nothing:
      return "shows nothing";
    case Finding::wrong:
      return "misleads";
    case Finding::no_reach:
      return "out of reach";
  }
  return "";
}

const char* finding_word(Finding finding) {
  switch (finding) {
    case Finding::right:
      return "shows-it";
    case Finding::nothing:
      return "shows-nothing";
    case Finding::wrong:
      return "misleads";
    case Finding::no_reach:
      return "out-of-reach";
  }
  return "";
}

const char* cause_word(bench::Cause cause) {
  switch (cause) {
    case bench::Cause::none:
      return "none";
    case bench::Cause::front:
      return "front";
    case bench::Cause::fans:
      return "fans";
    case bench::Cause::buoyancy:
      return "buoyancy";
    case bench::Cause::buoyancy_in_height:
      return "buoyancy-in-height";
  }
  return "";
}

const char* trap_word(TrapKind kind) {
  switch (kind) {
    case TrapKind::wrong_sign:
      return "wrong-sign";
    case TrapKind::buoyancy:
      return "buoyancy";
    case TrapKind::two_ways:
      return "two-ways";
    case TrapKind::weak:
      return "weak";
    case TrapKind::stiff:
      return "stiff";
    case TrapKind::touch:
      return "touch";
    case TrapKind::out_of_reach:
      return "out-of-reach";
    case TrapKind::infrared:
      return "infrared";
  }
  return "";
}

const char* seen_word(instruments::Seen seen) {
  switch (seen) {
    case instruments::Seen::clearly:
      return "moves-clearly";
    case instruments::Seen::hardly:
      return "moves-hardly";
    case instruments::Seen::not_at_all:
      return "does-not-move";
  }
  return "";
}

const char* part_word(bench::Part part) {
  switch (part) {
    case bench::Part::middle:
      return "middle";
    case bench::Part::upper:
      return "upper";
    case bench::Part::lower:
      return "lower";
  }
  return "";
}

std::string set_up_text(const bench::Report& report, const bench::SetUp& set_up) {
  const geometry::Case& content = report.content;
  const auto& condition = content.conditions[static_cast<std::size_t>(set_up.condition)];
  const auto& support = content.supports[static_cast<std::size_t>(condition.support)];
  const std::string held =
      support.kind == geometry::SupportKind::air ? "hung or held free on all sides" : "on " + support.name;
  const auto& load = content.loads[static_cast<std::size_t>(condition.load)];
  std::string fans;
  for (const auto& fan : load.fans) {
    const std::string name = content.device.fans[static_cast<std::size_t>(fan.fan)].name;
    const bool turns = fan.state == geometry::FanState::running && *fan.speed > 0.0;
    fans += (fans.empty() ? "" : ", ") + name +
            (turns ? fmt::format(" at {:.0f} rpm", 60.0 * *fan.speed) : std::string(" stopped"));
  }
  std::string text = content.poses[static_cast<std::size_t>(condition.pose)].name + ", " + held;
  text += set_up.cold ? ", cold (no load)" : ", load " + load.name;
  if (set_up.cold && !fans.empty()) text += "; fans forced: " + fans;
  return text;
}

std::string infrared_text(const bench::Report& report) {
  std::string text = "Infrared sees surfaces, never the air or which way it goes.";
  for (const bench::SpotView& spot : report.spots) {
    text += " " + (spot.name == spot.on ? spot.on : "Spot " + spot.name + " (" + spot.on + ")") + ": ";
    text += spot.reading.possible
                ? fmt::format("{} ± {} K (computed: {}).", temperature_text(spot.reading.value),
                              significant(base::kDeviations95 * spot.reading.sigma, 2),
                              temperature_text(spot.truth))
                : "refused, " + spot.reading.reason + ".";
  }
  return text;
}

}  // namespace tuft::output
