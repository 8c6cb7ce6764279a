#include "solver/physics/air.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

#include "solver/numerics/sloped.hpp"
#include "tests/physics/difference.hpp"

using namespace tuft;
using tuft::test::central_difference;

TEST_CASE("slopes of density and viscosity are their derivatives") {
  const physics::AirState moist = physics::room_air(95000.0, 298.15, 0.6);
  for (double t = 250.0; t <= 400.0; t += 10.0) {
    const auto rho = [&moist](double x) { return physics::density(moist, x); };
    const auto viscosity = [](double x) { return physics::viscosity(x); };
    const numerics::Sloped here(t, 1.0, 0.0);
    CHECK(physics::density(moist, here).slope[0] == Approx(central_difference(rho, t, 1e-2)).epsilon(1e-7));
    CHECK(physics::viscosity(here).slope[0] == Approx(central_difference(viscosity, t, 1e-2)).epsilon(1e-7));
  }
}

TEST_CASE("density follows pressure and falls with moisture") {
  const double dry = physics::density(physics::room_air(101325.0, 298.15, 0.0), 298.15);
  const double moist = physics::density(physics::room_air(101325.0, 298.15, 1.0), 298.15);
  CHECK(physics::density({2.0 * 101325.0, 0.0}, 298.15) == Approx(2.0 * dry));
  CHECK(moist < dry);
  // A vapour share e/p lowers the mean molar mass: rho_moist/rho_dry = 1 - (1 - 18.015/28.964) e/p.
  const double share = physics::saturation_pressure(298.15) / 101325.0;
  CHECK(moist / dry == Approx(1.0 - (1.0 - 18.01528 / 28.9644) * share).epsilon(1e-5));
}

TEST_CASE("rooms that cannot be are refused") {
  CHECK_THROWS_AS(physics::room_air(0.0, 293.15, 0.5), std::invalid_argument);
  CHECK_THROWS_AS(physics::room_air(101325.0, -1.0, 0.5), std::invalid_argument);
  CHECK_THROWS_AS(physics::room_air(101325.0, 293.15, 1.5), std::invalid_argument);
  CHECK_THROWS_AS(physics::standard_pressure(20000.0), std::invalid_argument);
  CHECK_THROWS_AS(physics::standard_pressure(-1000.0), std::invalid_argument);
}
