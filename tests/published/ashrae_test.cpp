// ASHRAE Handbook. Duct design chapter (21), thermal gravity effect, Examples 1 and 2; ventilation chapter
// (16), orifice flow. Confirmed in a public transcription of the SI edition (2021 Fundamentals).
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/air.hpp"
#include "solver/physics/openings.hpp"

using namespace tuft;

namespace {

const physics::AirState sea_level{101325.0, 0.0};

/// Pressure gained by air of one temperature over a height, against air of another [Pa].
double stack(double outside, double inside, double height) {
  return (physics::density(sea_level, outside) - physics::density(sea_level, inside)) *
         physics::standard_gravity * height;
}

}  // namespace

TEST_CASE("ASHRAE ch. 21: densities of the examples, 1.204, 0.898 (120 C), 0.434 (540 C) kg/m3 (confirmed)",
          "[outside:3]") {
  CHECK(physics::density(sea_level, 293.15) == Approx(1.204).margin(0.0005));
  CHECK(physics::density(sea_level, 393.15) == Approx(0.898).margin(0.0005));
  CHECK(physics::density(sea_level, 813.15) == Approx(0.434).margin(0.0005));
}

TEST_CASE("ASHRAE ch. 21 Example 1: 15 m of 540 C air gain 113 Pa, of 1.477 kg/m3 air lose 40 Pa (confirmed)",
          "[outside:2]") {
  CHECK(stack(293.15, 813.15, 15.0) == Approx(113.0).margin(0.6));
  const double cold = sea_level.pressure / (physics::gas_constant * 1.477);
  CHECK(stack(293.15, cold, 15.0) == Approx(-40.0).margin(0.6));
}

TEST_CASE("ASHRAE ch. 21 Example 2: 15 m of 120 C air gain 45 Pa (confirmed)", "[outside:1]") {
  CHECK(stack(293.15, 393.15, 15.0) == Approx(45.0).margin(0.6));
}

// dp = C a h (1/To - 1/Ti), C = 0.0342 K/m: confirmed in public encyclopedia text.
TEST_CASE("stack constant 0.0342 K/m (confirmed)", "[outside:1][echo:1]") {
  CHECK(physics::standard_gravity / physics::gas_constant == Approx(0.0342).margin(5e-5));
  const double formula = 0.0342 * 101325.0 * 3.0 * (1.0 / 293.15 - 1.0 / 313.15);
  CHECK(stack(293.15, 313.15, 3.0) == Approx(formula).epsilon(2e-3));
}

TEST_CASE("a chassis 20 mm high, 20 C outside, 40 C inside: 0.0151 Pa (derived, rho = 353/T)",
          "[derived:1]") {
  CHECK(stack(293.15, 313.15, 0.02) == Approx(0.01509).epsilon(2e-3));
}

TEST_CASE("ASHRAE ch. 16: sharp-edged opening, Cd about 0.6, 0.611 in leakage ratings (confirmed)",
          "[outside:2]") {
  const physics::FaceLaw hole = physics::sharp_rectangle({0.02, 0.02}, 0.0);
  const double cd = std::sqrt(0.5 / hole.inertial);
  CHECK(cd == Approx(0.6).margin(0.015));
  CHECK(cd == Approx(0.611).margin(0.0015));
}
