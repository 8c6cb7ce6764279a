// Radiation between grey surfaces: derivatives, signs, limits.
#include "solver/physics/radiation.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

#include "tests/physics/difference.hpp"

using namespace tuft::physics;
using tuft::test::central_difference;

TEST_CASE("grey flux: derivatives are those of the value") {
  for (const double surface : {280.0, 300.0, 340.0}) {
    const tuft::numerics::Sloped q = grey_flux(0.9, surface, 295.0);
    const auto by_surface = [](double t) { return grey_flux(0.9, t, 295.0).value; };
    const auto by_other = [&](double t) { return grey_flux(0.9, surface, t).value; };
    CHECK(q.slope[0] == Approx(central_difference(by_surface, surface, 1e-2)).epsilon(1e-8));
    CHECK(q.slope[1] == Approx(central_difference(by_other, 295.0, 1e-2)).epsilon(1e-8));
  }
}

TEST_CASE("grey flux: sign, balance, nothing from a mirror") {
  CHECK(grey_flux(0.9, 320.0, 295.0).value > 0.0);
  CHECK(grey_flux(0.9, 295.0, 320.0).value == Approx(-grey_flux(0.9, 320.0, 295.0).value).epsilon(1e-14));
  CHECK(grey_flux(0.9, 300.0, 300.0).value == 0.0);
  CHECK(grey_flux(0.0, 400.0, 300.0).value == 0.0);
  // A small difference keeps its digits: 4 eps sigma T^3 dT, next term 6 T^2 dT^2.
  CHECK(grey_flux(1.0, 300.0 + 1e-6, 300.0 - 1e-6).value ==
        Approx(4.0 * stefan_boltzmann * 300.0 * 300.0 * 300.0 * 2e-6).epsilon(1e-8));
}

TEST_CASE("exchange emissivity of parallel patches: black, symmetric, below either") {
  CHECK(exchange_emissivity(1.0, 1.0) == 1.0);
  CHECK(exchange_emissivity(1.0, 0.3) == Approx(0.3));
  CHECK(exchange_emissivity(0.9, 0.05) == Approx(exchange_emissivity(0.05, 0.9)).epsilon(1e-15));
  CHECK(exchange_emissivity(0.9, 0.05) < 0.05);
  CHECK_THROWS_AS(exchange_emissivity(0.0, 0.5), std::invalid_argument);
  CHECK_THROWS_AS(exchange_emissivity(0.5, 1.1), std::invalid_argument);
}
