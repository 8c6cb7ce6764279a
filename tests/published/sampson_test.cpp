// Sampson R.A., "On Stokes's current function", Phil. Trans. R. Soc. A 182 (1891) 449-518: creeping flow
// through a round hole, Q = dp d^3 / (24 mu). Confirmed in a public encyclopedia article that quotes it.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/physics/cover.hpp"
#include "solver/physics/openings.hpp"

using namespace tuft::physics;

namespace {

using tuft::numerics::kPi;

/// Side of the square of a round hole's area; our square resists slow flow as that hole does.
double side_of(double diameter) { return 0.5 * std::sqrt(kPi) * diameter; }

/// Our law of that square in a thin wall [1/m].
double thin_hole(double diameter) {
  return sharp_rectangle({side_of(diameter), side_of(diameter)}, 0.0).viscous;
}

}  // namespace

TEST_CASE("Sampson: slow flow through a hole in a thin wall (confirmed)", "[echo:1]") {
  const double d = 1.6e-3, mu = 1.8e-5, dp = 1e-4;
  const double w = dp / (thin_hole(d) * mu);
  CHECK(w * 0.25 * kPi * d * d == Approx(dp * d * d * d / (24.0 * mu)).epsilon(1e-12));
}

TEST_CASE("Sampson: loss coefficient on the hole velocity 12 kPi / Re = 37.7 / Re (derived)", "[echo:1]") {
  const double d = 1.6e-3;
  CHECK(2.0 * thin_hole(d) * d == Approx(37.7).epsilon(1e-3));
}

TEST_CASE("Sampson: far apart, the holes of a sheet do not feel each other (derived)", "[derived:1]") {
  const double d = 1.6e-3, f = 1e-4;
  CHECK(perforated_sheet(f, d, 0.0).viscous * d * f == Approx(6.0 * kPi).epsilon(1e-4));
}

// Dagan, Weinbaum & Pfeffer (1982) J. Fluid Mech. 115:505: a hole of finite length is Sampson plus Poiseuille
// within 1 % (from memory).
TEST_CASE("Sampson plus Poiseuille: a hole of finite length (from memory)", "[memory:1]") {
  const double d = 1e-3, t = 2e-3, f = 1e-4;  // a sheet's holes, far apart
  CHECK(perforated_sheet(f, d, t).viscous * f == Approx(6.0 * kPi / d + 32.0 * t / (d * d)).epsilon(0.01));
}
