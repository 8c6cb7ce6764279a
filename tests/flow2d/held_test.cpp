// Solids kept at a temperature, and sources that bring a velocity.
#include <catch2/catch.hpp>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

TEST_CASE("a held solid warms the air as a wall at its surface would", "[held]") {
  // Columns 0 to 3 of 16 are held at 2, the far wall at 0.5: heat k dT / L through the 12 columns of air
  // (exact).
  Problem p = unit_box(uniform_axis(16, 0.0, 1.6), uniform_axis(4, 0.0, 1.0));
  p.solid = p.held = Mask(16, 4);
  p.held_temperature = p.solid_conductivity = Array2(16, 4);
  for (int j = 0; j < 4; ++j)
    for (int i = 0; i < 4; ++i) {
      p.solid(i, j) = p.held(i, j) = 1;
      p.held_temperature(i, j) = 2.0;
      p.solid_conductivity(i, j) = 1e9;
    }
  Edge wall;
  wall.heat = HeatKind::temperature;
  wall.temperature = 0.5;
  p.set_side(Side::right, wall);
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  CHECK(s.found.newton.audit.heat_in == Approx(1.5 / 1.2).epsilon(1e-6));
  CHECK(s.found.newton.audit.heat_out == Approx(1.5 / 1.2).epsilon(1e-6));
  for (int i = 0; i < 16; ++i) {
    const double x = p.grid.x.centres()[static_cast<std::size_t>(i)];
    CHECK(s.state.temperature(i, 2) == Approx(i < 4 ? 2.0 : 2.0 - 1.5 * (x - 0.4) / 1.2).epsilon(1e-6));
  }
}

TEST_CASE("held cells that are not solid, or without a temperature, are refused", "[held]") {
  Problem p = unit_box(uniform_axis(4, 0.0, 1.0), uniform_axis(4, 0.0, 1.0));
  p.held = Mask(4, 4);
  CHECK(p.problem() == "held is given without held_temperature");
  p.held_temperature = Array2(4, 4);
  CHECK(p.problem().empty());
  p.held(1, 1) = 1;
  CHECK(p.problem() == "held: a cell is not solid");
  p.held = Mask(3, 4);
  CHECK(p.problem() == "held: wrong shape");
}

TEST_CASE("a source's velocity spares the pressure the momentum it brings", "[source]") {
  // A channel with slippery sides, shut at the left; the first column lets air in, U = 1 at the open end. Air
  // that starts from rest gains rho U^2 over the source's own cell, a quarter of it before the cell's middle
  // (as in test_parts); what the source brings to the one open face of its cell, half of m w, is taken off.
  const auto pressure_at_end = [](double velocity) {
    Problem p = unit_box(uniform_axis(10, 0.0, 1.0), uniform_axis(2, 0.0, 0.2));
    p.energy = false;
    p.fluid.viscosity = 1e-9;
    p.momentum_scheme = Convection::upwind;
    set_slip(&p, Side::bottom);
    set_slip(&p, Side::top);
    Edge open;
    open.kind = EdgeKind::outlet;
    p.set_side(Side::right, open);
    p.mass_source = p.source_velocity[0] = Array2(10, 2);
    for (int j = 0; j < 2; ++j) {
      p.mass_source(0, j) = 10.0;  // over 0.1 m: 1 kg/(s m2)
      p.source_velocity[0](0, j) = velocity;
    }
    const Solved s = solved(p);
    INFO(s.found.message);
    REQUIRE(s.found.steady());
    CHECK(s.state.u()(10, 0) == Approx(1.0));
    return s.state.pressure(0, 0);
  };
  CHECK(pressure_at_end(0.0) == Approx(0.75).epsilon(1e-6));
  CHECK(pressure_at_end(1.0) == Approx(0.25).epsilon(1e-6));
}
