#include "solver/physics/touch_limits.hpp"

#include <array>
#include <limits>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

/// Limits of one range of contact durations, in the order of TouchMaterial.
struct TouchRow {
  double shorter_than = 0.0;  ///< the row holds for contacts shorter than this [s], and not in an earlier row
  std::array<TouchLimit, 4> limits;
};

constexpr TouchLimit confirmed(double celsius) {
  return {celsius + numerics::kZeroCelsius, Provenance::confirmed};
}
constexpr TouchLimit remembered(double celsius) {
  return {celsius + numerics::kZeroCelsius, Provenance::from_memory};
}

constexpr double kAnyLonger = std::numeric_limits<double>::infinity();

constexpr std::array<TouchRow, 4> kTable{{
    {1.0, {{confirmed(70.0), remembered(85.0), confirmed(94.0), remembered(140.0)}}},
    {10.0, {{confirmed(60.0), remembered(71.0), confirmed(77.0), remembered(107.0)}}},
    {60.0, {{confirmed(51.0), remembered(56.0), confirmed(60.0), remembered(60.0)}}},
    {kAnyLonger, {{confirmed(48.0), remembered(48.0), confirmed(48.0), remembered(48.0)}}},
}};

}  // namespace

TouchLimit touch_limit(TouchMaterial material, double duration) {
  numerics::require_positive(duration, "contact duration");
  std::size_t row = 0;
  while (duration >= kTable[row].shorter_than) ++row;
  return kTable[row].limits[static_cast<std::size_t>(material)];
}

}  // namespace tuft::physics
