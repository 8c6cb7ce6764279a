// Fin efficiency and the conductance of a fin stack: derivatives, limits.
#include "solver/physics/fin_heat.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/air.hpp"
#include "tests/physics/difference.hpp"

using namespace tuft;
using namespace tuft::physics;
using tuft::numerics::Sloped;
using tuft::test::central_difference;

namespace {

const FinStackHeat stack{{40.0, 1.2e-3, 8e-3, 12e-3}, 0.2e-3, 200.0, Entry::flat};

}  // namespace

TEST_CASE("fin efficiency: tanh(M)/M, its derivative, and the join of series and formula") {
  const double height = 8e-3, thickness = 2e-4, k = 200.0;
  const auto value = [&](double h) { return fin_efficiency(h, height, thickness, k).value; };
  for (const double h : {1.0, 30.0, 500.0, 5e4}) {
    const Sloped fin = fin_efficiency(Sloped(h, 1.0, 0.0), height, thickness, k);
    const double m = height * std::sqrt(2.0 * h / (k * thickness));
    CHECK(fin.value == Approx(std::tanh(m) / m).epsilon(1e-12));
    CHECK(fin.slope[0] == Approx(central_difference(value, h, 1e-3 * h)).epsilon(2e-6));
  }
  CHECK(fin_efficiency(0.0, height, thickness, k).value == 1.0);
  const double join = 1e-4 * k * thickness / (2.0 * height * height);
  const Sloped below = fin_efficiency(Sloped(join * (1.0 - 1e-9), 1.0, 0.0), height, thickness, k);
  const Sloped above = fin_efficiency(Sloped(join * (1.0 + 1e-9), 1.0, 0.0), height, thickness, k);
  CHECK(below.value == Approx(above.value).epsilon(1e-12));
  CHECK(below.slope[0] == Approx(above.slope[0]).epsilon(1e-7));
}

TEST_CASE("fin stack conductance: derivative by the mass flow") {
  for (const Entry entry : {Entry::developed, Entry::flat}) {
    FinStackHeat fins = stack;
    fins.entry = entry;
    const auto value = [&](double m) { return fin_conductance(fins, m, 310.0).value; };
    for (const double m : {1e-6, 1e-4, 1.5e-3}) {
      INFO("m " << m);
      CHECK(fin_conductance(fins, Sloped(m, 1.0, 0.0), 310.0).slope[0] ==
            Approx(central_difference(value, m, 1e-3 * m)).epsilon(1e-5));
    }
  }
}

TEST_CASE("fin stack conductance: by hand at no flow") {
  const double t = 310.0, dh = 2.0 * 1.2e-3 * 8e-3 / 9.2e-3;
  const double h = developed_nusselt(1.2 / 8.0) * physics::conductivity(t) / dh;
  const double m = 8e-3 * std::sqrt(2.0 * h / (200.0 * 0.2e-3));
  const double by_hand = h * 40.0 * 12e-3 * (2.0 * 8e-3 * std::tanh(m) / m + 1.2e-3);
  CHECK(fin_conductance(stack, 0.0, t).value == Approx(by_hand).epsilon(1e-10));
  CHECK(std::isfinite(fin_conductance(stack, Sloped(0.0, 1.0, 0.0), t).slope[0]));
}

TEST_CASE(
    "fin stack conductance: better with copper, thicker fins and more flow; twice the fins, twice the heat") {
  FinStackHeat copper = stack, thick = stack, twice = stack;
  copper.fin_conductivity = 390.0;
  thick.fin_thickness = 0.4e-3;
  twice.channels.count = 80.0;
  const double m = 1e-3, base = fin_conductance(stack, m, 310.0).value;
  CHECK(fin_conductance(copper, m, 310.0).value > base);
  CHECK(fin_conductance(thick, m, 310.0).value ==
        Approx(fin_conductance({stack.channels, 0.2e-3, 400.0, Entry::flat}, m, 310.0).value));
  CHECK(fin_conductance(stack, 2e-3, 310.0).value > base);
  CHECK(fin_conductance(twice, 2.0 * m, 310.0).value == Approx(2.0 * base).epsilon(1e-12));
}

TEST_CASE("heat of a fin stack is smooth from no flow on") {
  const double cp = physics::specific_heat(310.0);
  const auto heat = [&](double m) {
    const Sloped flow(m, 1.0, 0.0);
    return carried_heat(flow, cp, fin_conductance(stack, flow, 310.0));
  };
  CHECK(heat(0.0).value == 0.0);
  CHECK(heat(0.0).slope[0] == cp);
  double last_value = 0.0, last_slope = cp;
  for (double m = 1e-8; m < 4e-3; m *= 1.05) {
    INFO("m " << m);
    const Sloped here = heat(m);
    CHECK(here.value > last_value);
    CHECK(here.slope[0] <= last_slope * (1.0 + 1e-12));
    CHECK(std::abs(here.slope[0] - last_slope) < 0.06 * cp);
    last_value = here.value;
    last_slope = here.slope[0];
  }
}
