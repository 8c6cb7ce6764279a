#include "solver/network/plume_stream.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::network {
namespace {

constexpr double kPlumeRounding =
    0.02;  // of the height between the openings, where the interface reaches an end
constexpr double kLeastPassing = 0.01;  // of the plume's: what stirs where no air passes

// Of the plume's flow: where less passes, the plume turns the zone's air over again and again, and the air
// beside it differs little from that of the top, against what both are warmer than the room; judgement.
constexpr double kTurnedOver = 0.1;

constexpr double kMostMixed =
    0.005;  // of the upper part's warmth that the lower one lacks where all is mixed

// x where it is well above 0, nearly 0 where it is below, and the slope of that.
struct Rounded {
  double value, slope;
};
Rounded above_zero(double x) {
  const double root = std::sqrt(x * x + 4.0 * kPlumeRounding * kPlumeRounding);
  // Not x + root where x is far below 0: nothing of it would be left.
  const double value = x > 0.0 ? 0.5 * (x + root) : 2.0 * kPlumeRounding * kPlumeRounding / (root - x);
  return {value, 0.5 * (1.0 + x / root)};
}

}  // namespace

PlumeStream::Evenness PlumeStream::evenness_at(double passing) const {
  const double least = kTurnedOver * upper;
  const double through = passing * passing, turned = least * least, all = std::hypot(through, turned);
  const double missing = (1.0 - evenness) * through / all;
  return {1.0 - missing, -missing * 2.0 / passing * (turned / all) * (turned / all)};
}

// The interface lies where the plume has drawn in all that passes. Below it the air is that which comes in,
// above it that of the upper part: t of the way between the openings (lower part's share 1 - t of the upper's
// warmth).
PlumeStream::Exchange PlumeStream::exchange(double net) const {
  if (upper <= 0.0 || outside <= 0.0) return {};
  const double least = kLeastPassing * upper;
  const double passing = std::sqrt(net * net + least * least);
  const double power = 1.0 / exponent;
  const double low = std::pow(lower, power);
  const double range = std::max(std::pow(upper, power) - low, 1e-9 * std::pow(upper, power));
  const double here = std::pow(passing, power);
  const Rounded height = above_zero((here - low) / range);
  const Rounded warm = above_zero(1.0 - height.value);
  const Evenness even = evenness_at(passing);
  const double rest = height.value + kMostMixed + (1.0 - even.value) * warm.value;
  const double ratio = even.value * warm.value / rest;
  const double by_passing = power * here / (passing * range) * height.slope;
  const double ratio_slope =
      (warm.value * (1.0 + ratio) * even.slope -
       (even.value * warm.slope + ratio * (1.0 - (1.0 - even.value) * warm.slope)) * by_passing) /
      rest;
  return {outside * passing * ratio, outside * (ratio + passing * ratio_slope) * net / passing};
}

}  // namespace tuft::network
