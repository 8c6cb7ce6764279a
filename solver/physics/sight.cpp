#include "solver/physics/sight.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::instruments {

namespace {

constexpr double hardly_angle = 5e-3, clearly_angle = 17e-3, hand_factor = 3.0;  // [rad], judgement
// A factor of 2 is 1.96 standard deviations of the threshold's logarithm.
const double log_deviation = std::log(2.0) / base::kDeviations95;
constexpr double fastest_visible = 30.0;
constexpr double resolved_angle = base::kDegree / 60.0;  // a minute of arc [rad]

/// Probability that a travel is above a threshold known to within a factor of 2.
double above(double travel, double threshold) {
  return travel > 0.0 ? normal_below(std::log(travel / threshold) / log_deviation) : 0.0;
}

}  // namespace

double contrast_kept(double width, double distance) {
  base::require_positive(width, "width of the tell-tale");
  base::require_positive(distance, "distance of the eye");
  return std::min(1.0, width / (resolved_angle * distance));
}

SightThresholds sight_thresholds(const Viewing& viewing) {
  base::require_positive(viewing.distance, "distance of the eye");
  double scale = viewing.distance * (viewing.hand_held ? hand_factor : 1.0);
  base::require_not_negative(viewing.width, "width of the tell-tale");
  if (viewing.width > 0.0) scale /= contrast_kept(viewing.width, viewing.distance);
  return {hardly_angle * scale, clearly_angle * scale};
}

Sight look(double travel, const Viewing& viewing) {
  base::require_not_negative(travel, "travel of the tip");
  const SightThresholds thresholds = sight_thresholds(viewing);
  Sight sight;
  sight.clearly = above(travel, thresholds.clearly);
  sight.not_at_all = 1.0 - above(travel, thresholds.hardly);
  sight.hardly = 1.0 - sight.clearly - sight.not_at_all;
  sight.seen = travel >= thresholds.clearly  ? Seen::Clearly
               : travel >= thresholds.hardly ? Seen::Hardly
                                             : Seen::Not;
  return sight;
}

std::optional<double> smallest_speed(const TellTale& tell_tale, const Hanging& hanging,
                                     const Viewing& viewing, Seen wanted) {
  if (wanted == Seen::Not) throw std::invalid_argument("wanted sight: must be hardly or clearly");
  Viewing of_this = viewing;
  of_this.width = tell_tale.width;
  const SightThresholds thresholds = sight_thresholds(of_this);
  const double needed = wanted == Seen::Clearly ? thresholds.clearly : thresholds.hardly;
  // Without a state of rest it moves all the time, and that is seen.
  const auto enough = [&](double speed) {
    const Deflection bent = deflect_in_even_air(tell_tale, hanging, speed);
    return !bent.converged || bent.travel >= needed;
  };
  double low = 0.0, high = 0.01;
  while (!enough(high)) {
    low = high;
    high *= 2.0;
    if (high > 2.0 * fastest_visible) return std::nullopt;
  }
  while (high - low > 1e-3 * high) {
    const double middle = 0.5 * (low + high);
    (enough(middle) ? high : low) = middle;
  }
  if (high > fastest_visible) return std::nullopt;
  return high;
}

}  // namespace tuft::instruments
