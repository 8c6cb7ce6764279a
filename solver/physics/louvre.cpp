#include "solver/physics/louvre.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/physics/perforated.hpp"

namespace tuft::physics {

namespace {

constexpr double share_of_thick_plate = 0.9;  // judgement, see the header

}  // namespace

FaceLaw louvre_blades(double open_ratio, double gap, double depth) {
  const double f = numerics::require_within(open_ratio, 0.0, 1.0, "open ratio");
  const double s = numerics::require_positive(gap, "blade gap");
  const double t = numerics::require_not_negative(depth, "blade depth");
  // Blades that leave everything open are no blades: their friction fades over the last tenth.
  const double blades = std::min(1.0, (1.0 - f) / 0.1);
  const double friction = 12.0 * std::sqrt(2.0) * t / (s * s) * blades;
  return {friction / f, 0.5 * share_of_thick_plate * thick_plate_loss(f)};
}

FaceLaw louvre(double open_ratio, double gap, double depth, const Opening& face) {
  return cover_in_wall(louvre_blades(open_ratio, gap, depth), face, depth);
}

}  // namespace tuft::physics
