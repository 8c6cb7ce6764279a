// Thin walls, porous blocks, rims with a loss of their own, heat lost through the faces, and what a caller
// brings.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// Air pressed from left to right between frictionless sides.
Problem channel(int nx, int ny, double head) {
  Problem p;
  p.grid = Grid{uniform_axis(nx, 0.0, 0.1), uniform_axis(ny, 0.0, 0.04)};
  p.energy = false;
  set_slip(&p, Side::bottom);
  set_slip(&p, Side::top);
  Edge rim;
  rim.kind = EdgeKind::outlet;
  rim.temperature = p.fluid.temperature;
  p.set_side(Side::right, rim);
  rim.pressure = head;
  p.set_side(Side::left, rim);
  return p;
}

double mean_inflow(const Problem& p, const State& s) {
  double sum = 0.0;
  for (int j = 0; j < p.grid.ny(); ++j) sum += s.u()(0, j);
  return sum / p.grid.ny();
}

}  // namespace

TEST_CASE("a porous block takes its law's pressure", "[laws]") {
  Problem p = channel(20, 4, 3.0);
  // Faces 6 to 13: eight faces stand for eight cells' length.
  p.drag_viscous[0] = Array2(21, 4);
  p.drag_inertial[0] = Array2(21, 4);
  for (int j = 0; j < 4; ++j)
    for (int i = 6; i < 14; ++i) {
      p.drag_viscous[0](i, j) = 2e6;
      p.drag_inertial[0](i, j) = 50.0;
    }
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  const double u = mean_inflow(p, s.state), length = 8 * 0.1 / 20;
  CHECK(length * (2e6 * p.fluid.viscosity * u + 50.0 * p.fluid.density * u * u) == Approx(3.0).epsilon(1e-6));
}

TEST_CASE("a rim's own loss is paid by the air that enters, another by the air that leaves", "[laws]") {
  Problem p = channel(12, 4, 2.0);
  for (Edge& e : p.edges[0]) {
    e.inertial_in = 0.745;
  }
  for (Edge& e : p.edges[1]) {
    e.inertial_in = 5.0;
  }
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  const double u = mean_inflow(p, s.state), rho = p.fluid.density;
  CHECK(0.745 * rho * u * u == Approx(2.0).epsilon(1e-6));
}

TEST_CASE("no air passes a thin wall, and the halves do not feel each other", "[exact]") {
  Problem whole = channel(16, 8, 0.5), parted = whole;
  for (int i = 0; i < 16; ++i) parted.barrier[1](i, 4) = 1;
  // The lower half is shut off as well: only the upper one moves.
  for (int j = 0; j < 4; ++j) parted.barrier[0](8, j) = 1;
  const Solved s = solved(parted);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  double lower = 0.0, upper = 0.0;
  for (int j = 0; j < 8; ++j) (j < 4 ? lower : upper) += std::abs(s.state.u()(8, j));
  CHECK(lower == 0.0);
  CHECK(upper > 0.1);
  for (int i = 0; i < 16; ++i) CHECK(s.state.v()(i, 4) == 0.0);
}

TEST_CASE("air at rest between warm floor and lossy faces takes the temperature of the balance",
          "[balance]") {
  Problem p;
  p.grid = Grid{uniform_axis(12, 0.0, 0.1), uniform_axis(12, 0.0, 0.1)};
  p.depth = Array2(12, 12, 0.01);
  p.heat_source = Array2(12, 12, 5000.0);  // 50 W/m2 on the floor
  p.wall_loss = Array2(12, 12, 10.0);
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  for (const double t : s.state.temperature.values())
    CHECK(t - p.fluid.temperature == Approx(5.0).epsilon(1e-6));
}

TEST_CASE("no inertia where the momentum share is 0", "[laws]") {
  // A source at one end of a closed channel speeds the air up; without inertia that costs nothing. With it,
  // the momentum rho u^2 is gained over the source's own cell, a quarter of it before the cell's middle.
  for (const double share : {0.0, 1.0}) {
    Problem p = channel(20, 4, 0.0);
    p.momentum_share = Array2(20, 4, share);
    p.set_side(Side::left, Edge{});
    p.momentum_scheme = Convection::upwind;
    p.mass_source = Array2(20, 4);
    for (int j = 0; j < 4; ++j) p.mass_source(0, j) = 100.0;
    const Solved s = solved(p);
    INFO(s.found.message);
    REQUIRE(s.found.steady());
    const double u = s.state.u()(10, 1), spent = s.state.pressure(0, 1);
    CHECK(spent == Approx(0.75 * share * p.fluid.density * u * u).margin(0.02 * p.fluid.density * u * u));
  }
}

TEST_CASE("wrong parts are refused by name", "[messages]") {
  Problem p = channel(8, 4, 1.0);
  p.wall_loss = Array2(8, 4, -1.0);
  CHECK_THAT(p.problem(), Catch::Contains("wall_loss"));
  p = channel(8, 4, 1.0);
  p.drag_viscous[0] = Array2(8, 4);
  CHECK_THAT(p.problem(), Catch::Contains("drag_viscous"));
  p = channel(8, 4, 1.0);
  p.barrier[1] = Mask(8, 4);
  CHECK_THAT(p.problem(), Catch::Contains("barrier"));
  p = channel(8, 4, 1.0);
  p.edges[0][2].inertial_in = -1.0;
  CHECK_THAT(p.problem(), Catch::Contains("loss is negative"));
  p = channel(8, 4, 1.0);
  p.solid_conductivity = Array2(8, 4, -1.0);
  CHECK_THAT(p.problem(), Catch::Contains("solid_conductivity"));
  p = channel(8, 4, 1.0);
  p.coupled = Mask(8, 4, 1);
  CHECK_THROWS_WITH(solved(p), Catch::Contains("coupled"));
}

TEST_CASE("what is no number is refused where it stands", "[messages]") {
  const double none = std::nan(""), endless = INFINITY;
  const auto fault = [](auto change) {
    Problem p = channel(8, 4, 1.0);
    change(p);
    return p.problem();
  };
  CHECK(fault([](Problem&) {}).empty());
  CHECK(fault([&](Problem& p) { p.edges[0][2].pressure = none; }) ==
        "edges of side 0, cell 2: pressure is nan, must be finite");
  CHECK(fault([&](Problem& p) { p.edges[1][0].temperature = 0.0; }) ==
        "edges of side 1, cell 0: temperature is 0.000000 K, must be above 0");
  CHECK(fault([&](Problem& p) { p.edges[3][1].flux = endless; }) ==
        "edges of side 3, cell 1: flux is inf, must be finite");
  CHECK(fault([&](Problem& p) { p.gravity[1] = none; }) == "gravity is not finite");
  CHECK(fault([&](Problem& p) { p.momentum_factor = -1.0; }) == "momentum_factor must be 0 or above");
  CHECK(fault([&](Problem& p) { p.fluid.sutherland = none; }) == "fluid.sutherland must be 0 or above");
  CHECK(fault([&](Problem& p) { p.heat_source = Array2(8, 4, none); }) ==
        "heat_source has an entry that is not finite");
  CHECK(fault([&](Problem& p) {
          p.mass_source = Array2(8, 4, 1.0);
          p.source_temperature = Array2(8, 4, 0.0);
        }) == "source_temperature has an entry of 0 K or below where air is let in");
  CHECK_THROWS_WITH(uniform_axis(4, 0.0, none), Catch::Contains("finite"));
  CHECK_THROWS_WITH(uniform_axis(4, 0.0, endless), Catch::Contains("finite"));
}

TEST_CASE("air that is let in and has no way out is refused", "[messages]") {
  Problem p = channel(8, 4, 1.0);
  p.mass_source = Array2(8, 4, 2.0);
  CHECK(p.problem().empty());  // it leaves by the rims
  p.set_side(Side::left, Edge{});
  p.set_side(Side::right, Edge{});
  CHECK_THAT(p.problem(), Catch::Contains("0.008000 kg/s and out 0.000000 kg/s") &&
                              Catch::Contains("the two must be equal"));
  p.mass_source(0, 0) = 2.0 - 2.0 * 32.0;  // what the others bring
  CHECK(p.problem().empty());
}
