// Alduchov O.A., Eskridge R.E., "Improved Magnus form approximation of saturation vapor pressure", J. Appl.
// Meteor. 35 (1996) 601-609, eq. 21. Constants confirmed in public code that quotes the paper.
#include <catch2/catch.hpp>

#include "solver/physics/air.hpp"

using namespace tuft;

// Steam-table values, from memory: 0 C 611.2 Pa, 20 C 2339 Pa, 25 C 3169 Pa, 40 C 7384 Pa. The paper claims
// 0.4 %.
TEST_CASE("saturation pressure meets the steam tables (from memory) within the 0.4 % the paper claims",
          "[memory:4]") {
  CHECK(physics::saturation_pressure(273.15) == Approx(611.2).epsilon(4e-3));
  CHECK(physics::saturation_pressure(293.15) == Approx(2339.0).epsilon(4e-3));
  CHECK(physics::saturation_pressure(298.15) == Approx(3169.0).epsilon(4e-3));
  CHECK(physics::saturation_pressure(313.15) == Approx(7384.0).epsilon(4e-3));
}

// ASHRAE Handbook - Fundamentals, psychrometric chart, 20 C and 50 %: 1.194 kg/m3 of moist air (from memory).
TEST_CASE("moist room air at 20 C and 50 % is about 0.4 % lighter than dry air (derived)", "[derived:1]") {
  const physics::AirState room = physics::room_air(101325.0, 293.15, 0.5);
  const double dry = physics::density({101325.0, 0.0}, 293.15);
  // (1 - 18.015/28.964) * 0.5 * 2339 / 101325 = 0.436 %
  CHECK(1.0 - physics::density(room, 293.15) / dry == Approx(0.00436).epsilon(0.01));
}
