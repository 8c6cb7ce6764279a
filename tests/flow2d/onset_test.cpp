// When does a box heated from below begin to move?
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// Growth rate [a/L^2] of a faint roll in a square box with adiabatic sides.
double growth_rate(int n, double rayleigh) {
  Problem p = unit_box(uniform_axis(n, 0.0, 1.0), uniform_axis(n, 0.0, 1.0));
  p.fluid.viscosity = 0.71;
  p.gravity = {0.0, -rayleigh * 0.71};
  Edge wall;
  wall.heat = HeatKind::temperature;
  wall.temperature = 0.5;
  p.set_side(Side::bottom, wall);
  wall.temperature = -0.5;
  p.set_side(Side::top, wall);
  State s = still_state(p);
  const double pi = std::acos(-1.0);
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) {
      const double x = p.grid.x.centres()[static_cast<std::size_t>(i)],
                   y = p.grid.y.centres()[static_cast<std::size_t>(j)];
      s.temperature(i, j) = 0.5 - y + 3e-2 * std::cos(pi * x) * std::sin(pi * y);
      s.pressure(i, j) = rayleigh * 0.71 * 0.5 * (y - y * y);  // carries the still air's weight
    }
  InTime run(p, s, 2e-3);
  run.to(0.2);  // all but the slowest mode die out
  const double early = run.march.kinetic_energy();
  run.to(0.4);
  REQUIRE(run.good);
  return 0.5 * std::log(run.march.kinetic_energy() / early) / 0.2;
}

}  // namespace

TEST_CASE("air heated from below starts to move between the bounds", "[published][outside:1][memory:1]") {
  // Below: the layer without side walls, 1707.8 (from memory; 1708 as transcribed from Hollands 1984). Side
  // walls only steady it. Above: the cube with insulated sides, 3446 (Catton, as tabulated in a public
  // library): two walls more.
  const double lower = 1707.8, upper = 3446.0;
  const double slow = growth_rate(24, lower), fast = growth_rate(24, upper);
  CHECK(slow < 0.0);
  CHECK(fast > 0.0);
  const double critical = lower + (upper - lower) * slow / (slow - fast);
  const double below = growth_rate(24, 0.97 * critical), above = growth_rate(24, 1.03 * critical);
  std::printf("onset: growth %.3f at Ra %.0f, %.3f at %.0f; critical near %.0f (2585 from memory)\n", slow,
              lower, fast, upper, critical);
  CHECK(below < above);
}
