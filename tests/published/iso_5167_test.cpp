// ISO 5167 orifice plate, Reader-Harris/Gallagher discharge coefficient, diameter ratio 0.5, D 0.1 m, corner
// taps: pipe Re 1.4e4 0.6157, 3.4e4 0.6103, 6.9e4 0.6078 (confirmed: computed by python3-fluids 1.0.22). The
// coefficient there is the jet's own, the approach velocity being accounted for separately, so it brackets
// that of a hole in a wall.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/physics/openings.hpp"

using namespace tuft::physics;

namespace {

/// Discharge coefficient of our law at a Reynolds number on the diameter of the round hole.
double discharge(double reynolds) {
  const double d = 0.05;
  const double side = 0.5 * std::sqrt(tuft::numerics::kPi) * d;  // the square of its area
  const FaceLaw hole = sharp_rectangle({side, side}, 0.0);
  return std::sqrt(0.5 / (hole.inertial + hole.viscous * d / reynolds));
}

}  // namespace

TEST_CASE("ISO 5167: our sharp hole lies within the orifice plate's coefficients (confirmed)",
          "[outside:3]") {
  const double table[][2] = {{1.4e4, 0.6157}, {3.4e4, 0.6103}, {6.9e4, 0.6078}};
  for (const auto& row : table) CHECK(discharge(2.0 * row[0]) == Approx(row[1]).epsilon(0.012));
  CHECK(discharge(1e9) > 0.6078);
  CHECK(discharge(1e9) < 0.6157);
}
