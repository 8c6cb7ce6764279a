// "U.S. Standard Atmosphere, 1976", NOAA/NASA/USAF. Confirmed: python3-fluids 1.0.22 ATMOSPHERE_1976, and 5
// km printed in its documentation.
#include <catch2/catch.hpp>

#include "solver/physics/air.hpp"

using namespace tuft;

namespace {

struct Level {
  double altitude, temperature, pressure, density;
};
const Level levels[] = {{0.0, 288.15, 101325.0, 1.2250},   {500.0, 284.90, 95461.0, 1.1673},
                        {1000.0, 281.65, 89876.0, 1.1117}, {1500.0, 278.40, 84560.0, 1.0581},
                        {2000.0, 275.15, 79501.0, 1.0066}, {3000.0, 268.66, 70121.0, 0.9093},
                        {5000.0, 255.68, 54048.0, 0.7364}};

}  // namespace

TEST_CASE("US Standard Atmosphere 1976: temperature, pressure and density by altitude (confirmed)",
          "[outside:21]") {
  for (const Level& level : levels) {
    INFO("altitude " << level.altitude);
    CHECK(physics::standard_temperature(level.altitude) == Approx(level.temperature).margin(0.006));
    CHECK(physics::standard_pressure(level.altitude) == Approx(level.pressure).margin(0.6));
    const physics::AirState state{physics::standard_pressure(level.altitude), 0.0};
    CHECK(physics::density(state, level.temperature) == Approx(level.density).margin(6e-5));
  }
}

// Sutherland's constants of the same document, 1.458e-6 and 110.4 K (confirmed): 1.7894e-5 Pa s at 288.15 K
// (from memory).
TEST_CASE("US Standard Atmosphere 1976: viscosity at sea level (constants confirmed, value from memory)",
          "[memory:1]") {
  CHECK(physics::viscosity(288.15) == Approx(1.7894e-5).epsilon(1e-4));
}

TEST_CASE("US Standard Atmosphere 1976: gas constant 287.053 J/(kg K) (derived from R* and M)",
          "[derived:1]") {
  CHECK(physics::gas_constant == Approx(287.053).margin(5e-4));
}
