// Heat between fins and the air in their channels, and the friction there, whatever the cells.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/flow2d/slopes.hpp"
#include "tests/flow2d/field_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

constexpr double kMetal = 340.0;

/// A duct of `nx` by `ny` cells that is all channels between fins, its air driven to the right at `speed`, or
/// to the left where that is negative.
Problem finned_duct(int nx, int ny, double speed) {
  Problem p;
  p.grid = Grid{uniform_axis(nx, 0.0, 0.024), uniform_axis(ny, 0.0, 0.06)};
  p.depth = Array2(nx, ny, 0.007);
  p.fluid.conductivity = 1e-6;  // the law holds all heat between air and metal
  p.momentum_scheme = p.energy_scheme = Convection::upwind;
  HeatedChannels channels;
  channels.fins.channels = {44.0, 1.1e-3, 7e-3, 24e-3};
  channels.fins.fin_thickness = 0.2e-3;
  channels.fins.fin_conductivity = 385.0;
  channels.metal = kMetal;
  channels.i1 = nx;
  channels.j1 = ny;
  p.channels = {channels};
  p.drag_viscous[0] = Array2(nx + 1, ny, 1e7);
  set_slip(&p, Side::bottom);
  set_slip(&p, Side::top);
  Edge in, out;
  in.kind = EdgeKind::inflow;
  in.normal = speed;
  in.temperature = p.fluid.temperature;
  out.kind = EdgeKind::outlet;
  out.temperature = p.fluid.temperature;
  p.set_side(speed >= 0.0 ? Side::left : Side::right, in);
  p.set_side(speed >= 0.0 ? Side::right : Side::left, out);
  return p;
}

double flow_through(const Problem& p, double speed) {
  return p.fluid.density * std::abs(speed) * p.grid.y.length() * p.depth[0];
}

/// By the law that the network uses.
double heat_by_law(const Problem& p, double speed) {
  const double flow = flow_through(p, speed);
  const numerics::Sloped conductance =
      physics::fin_conductance(p.channels[0].fins, flow, p.fluid.temperature);
  return physics::carried_heat(flow, p.fluid.specific_heat, conductance).value *
         (kMetal - p.fluid.temperature);
}

double sum_of(const Array2& a) {
  double sum = 0.0;
  for (const double v : a.values()) sum += v;
  return sum;
}

}  // namespace

TEST_CASE("channels warm their air as the network's law does, on two cells in a row or many", "[channels]") {
  for (const double speed : {1.2, 3.0, -1.2})
    for (const int n : {2, 4, 12, 40}) {
      const Problem p = finned_duct(n, 3, speed);
      const Solved s = solved(p);
      INFO(speed << " m/s, " << n << " cells: " << s.found.message);
      REQUIRE(s.found.steady());
      Residual residual(p);
      State over = s.state;
      residual.evaluate(s.state, &over);
      CHECK(sum_of(residual.channel_heat()) == Approx(heat_by_law(p, speed)).epsilon(4e-3));
      const double leaves = s.state.temperature(speed > 0.0 ? n - 1 : 0, 1) - p.fluid.temperature;
      CHECK(flow_through(p, speed) * p.fluid.specific_heat * leaves ==
            Approx(sum_of(residual.channel_heat())).epsilon(1e-4));
      CHECK(s.found.newton.audit.energy < 1e-7);
      CHECK(s.found.newton.audit.heat_in > 0.9 * heat_by_law(p, speed));
    }
}

TEST_CASE("no air in channels passes the metal's temperature, however slow it is", "[channels]") {
  double last = 0.0;
  for (const double speed : {3.0, 0.3, 0.03, 3e-3, 3e-4, 3e-5}) {
    const Problem p = finned_duct(12, 2, speed);
    const Solved s = solved(p);
    INFO(speed << " m/s: " << s.found.message);
    REQUIRE(s.found.steady());
    for (const double t : s.state.temperature.values()) {
      CHECK(t <= kMetal * (1.0 + 1e-12));
      CHECK(t >= p.fluid.temperature * (1.0 - 1e-12));
    }
    const double warmest = s.state.temperature(11, 0);
    CHECK(warmest >= last - 1e-9);  // the slower, the warmer
    last = warmest;
  }
  CHECK(last == Approx(kMetal).epsilon(1e-6));
}

TEST_CASE("air at rest in channels takes the temperature of its balance with metal and walls",
          "[channels][balance]") {
  Problem p = finned_duct(6, 3, 1.0);
  p.edges = {};
  p.barrier = {};
  p.wall_loss = Array2(6, 3, 200.0);
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  const double by_metal = physics::fin_conductance(p.channels[0].fins, 0.0, p.fluid.temperature).value;
  const double by_walls = 200.0 * p.grid.x.length() * p.grid.y.length();
  const double expected = by_metal / (by_metal + by_walls) * (kMetal - p.fluid.temperature);
  for (const double t : s.state.temperature.values())
    CHECK(t - p.fluid.temperature == Approx(expected).epsilon(1e-6));
}

TEST_CASE("the heat balance's slope by its own temperature holds the channels' conductance", "[channels]") {
  Problem p = finned_duct(4, 2, 0.5);
  p.fluid.law = DensityLaw::boussinesq;  // with the density the flow would vary, whose effect is lagged
  State s = still_state(p);
  s.u().fill(0.5);
  s.temperature.fill(310.0);
  Residual residual(p);
  State over = s, warmer = s;
  residual.evaluate(s, &over);
  const double slope = Slopes(residual, s).heat(2, 1).at[5], before = over.temperature(2, 1);
  constexpr double dt = 1e-3;
  warmer.temperature(2, 1) += dt;
  residual.evaluate(warmer, &over);
  CHECK((over.temperature(2, 1) - before) / dt == Approx(slope).epsilon(1e-6));
  CHECK(slope < -residual.channel_conductance()(2, 1));
}

TEST_CASE("the loss of a block is its law's on any cells, walls or no walls between its rows", "[channels]") {
  for (const int n : {4, 16, 64}) {
    Problem p = finned_duct(8, n, 1.0);
    p.channels.clear();
    p.energy = false;
    p.momentum_share = Array2(8, n, 0.0);
    p.barrier[1] = Mask(8, n + 1, 1);
    const Solved s = solved(p);
    INFO(n << " rows: " << s.found.message);
    REQUIRE(s.found.steady());
    const double lost = s.state.pressure(1, n / 2) - s.state.pressure(6, n / 2);
    CHECK(lost == Approx(1e7 * p.fluid.viscosity * 1.0 * 5.0 * 0.024 / 8.0).epsilon(1e-9));
  }
}

TEST_CASE("channels that can't be are refused by name", "[messages]") {
  const auto fault = [](auto change) {
    Problem p = finned_duct(4, 2, 1.0);
    change(p.channels[0]);
    return p.problem();
  };
  CHECK(fault([](HeatedChannels&) {}).empty());
  CHECK(fault([](HeatedChannels& c) { c.metal = std::nan(""); }) ==
        "channels: the metal's temperature must be positive and finite");
  CHECK(fault([](HeatedChannels& c) { c.i1 = 5; }) == "channels: the block does not lie in the grid");
  CHECK_THAT(fault([](HeatedChannels& c) { c.fins.channels.gap = 0.0; }),
             Catch::Contains("must be positive and finite"));
}
