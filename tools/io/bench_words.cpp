#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "tools/io/bench.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {

std::string finding_text(experiment::Finding finding) {
  return word_among(finding, {"shows it", "shows nothing", "misleads", "out of reach"});
}

std::string finding_word(experiment::Finding finding) {
  std::string word = finding_text(finding);
  std::replace(word.begin(), word.end(), ' ', '-');
  return word;
}

const experiment::AirPoint* air_at(const std::vector<experiment::AirPoint>& air, double distance) {
  const auto found =
      std::find_if(air.begin(), air.end(), [&](const auto& point) { return point.distance == distance; });
  return found == air.end() ? nullptr : &*found;
}

bool hangs_still(double lean) {
  constexpr double kStillLean = 0.05e-3;  // [m], what one decimal of a millimetre cannot show
  return std::abs(lean) < kStillLean;
}

std::string lean_number(double lean, UnitSystem units) {
  const int decimals = units == UnitSystem::inch ? 3 : 1;
  return significant(geometry::length_unit(units).of(std::abs(lean)), 2, decimals);
}

std::string setup_text(const experiment::Report& report, const experiment::SetUp& setup) {
  const geometry::Case& content = report.content;
  const auto& condition = at(content.conditions, setup.condition);
  const auto& support = at(content.supports, condition.support);
  const std::string held =
      support.kind == geometry::SupportKind::air ? "hung or held free on all sides" : "on " + support.name;
  const auto& load = at(content.loads, condition.load);
  const auto fan_words = [&](const auto& fan) {
    const bool turns = fan.state == geometry::FanState::running && *fan.speed > 0.0;
    return at(content.device.fans, fan.fan).name +
           (turns ? fmt::format(" at {:.0f} rpm", 60.0 * *fan.speed) : " stopped");
  };
  const std::string fans = joined(each(load.fans, fan_words), ", ");
  std::string text = at(content.poses, condition.pose).name + ", " + held;
  text += setup.cold ? ", cold (no load)" : ", load " + load.name;
  if (setup.cold && !fans.empty()) text += "; fans forced: " + fans;
  return text;
}

std::string infrared_text(const experiment::Report& report) {
  std::string text = "Infrared shows surfaces, never the air or which way it goes.";
  const UnitSystem units = report.content.units;
  for (const experiment::SpotView& spot : report.spots) {
    text += " " + (spot.name == spot.on ? spot.on : "Spot " + spot.name + " (" + spot.on + ")") + ": ";
    text += spot.reading.possible
                ? fmt::format("{} ± {} (computed: {}).", temperature_text(spot.reading.value, units),
                              difference_text(numerics::kDeviations95 * spot.reading.sigma, units, 2, 6),
                              temperature_text(spot.truth, units))
                : "refused, " + spot.reading.reason + ".";
  }
  return text;
}

}  // namespace tuft::io
