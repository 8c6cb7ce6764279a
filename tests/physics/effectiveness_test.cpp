// Heat a stream carries off: derivatives and limits.
#include "solver/physics/fin_heat.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/physics/difference.hpp"

using namespace tuft::physics;
using tuft::numerics::Sloped;
using tuft::test::central_difference;

TEST_CASE("effectiveness: limits and derivative") {
  CHECK(effectiveness(0.0).value == 0.0);
  CHECK(effectiveness(50.0).value == Approx(1.0));
  CHECK(effectiveness(1e-9).value == Approx(1e-9).epsilon(1e-8));
  const auto value = [](double n) { return effectiveness(n).value; };
  for (const double n : {0.01, 0.7, 4.0}) {
    CHECK(effectiveness(Sloped(n, 1.0, 0.0)).slope[0] ==
          Approx(central_difference(value, n, 1e-5)).epsilon(1e-8));
  }
}

TEST_CASE("carried heat: derivative where the conductance changes with the flow") {
  const auto at = [](double m) {
    const Sloped flow(m, 1.0, 0.0);
    return carried_heat(flow, 1007.0, 0.4 + 900.0 * sqrt(flow + 1e-4));
  };
  const auto value = [&](double m) { return at(m).value; };
  for (const double m : {1e-5, 4e-5, 1e-3, 0.01, 0.1}) {
    INFO("m " << m);
    CHECK(at(m).slope[0] == Approx(central_difference(value, m, 1e-4 * m)).epsilon(1e-6));
  }
}

TEST_CASE("carried heat: no flow, little flow, much flow") {
  const Sloped none = carried_heat({0.0, 1.0, 0.0}, 1007.0, {2.0, 3.0, 0.0});
  CHECK(none.value == 0.0);
  CHECK(none.slope[0] == 1007.0);
  double last = 0.0;
  for (double m = 1e-9; m < 10.0; m *= 1.3) {
    const Sloped heat = carried_heat({m, 1.0, 0.0}, 1007.0, 2.0);
    CHECK(heat.value > last);
    CHECK(heat.value <= m * 1007.0);
    CHECK(heat.value < 2.0);
    CHECK(std::isfinite(heat.slope[0]));
    CHECK(heat.slope[0] <= 1007.0);
    last = heat.value;
  }
  CHECK(last == Approx(2.0).epsilon(1e-3));
  // Where the branch for little flow ends nothing jumps.
  const double edge = 2.0 / (700.0 * 1007.0);
  CHECK(carried_heat({edge * 1.0001, 1.0, 0.0}, 1007.0, 2.0).slope[0] == Approx(1007.0).epsilon(1e-12));
}
