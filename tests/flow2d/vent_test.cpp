// Vents: openings from cells of a layer to spaces of given pressure.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/flow2d/exchange.hpp"
#include "solver/flow2d/march.hpp"
#include "solver/flow2d/scales.hpp"
#include "tests/flow2d/field_support.hpp"

using namespace tuft::field;
using namespace tuft::field::test;

namespace {

/// A wide, deep layer, closed but for two vents; pressure inside is all but uniform.
Problem box_with_vents(double inertial) {
  Problem p;
  p.grid = Grid{uniform_axis(24, 0.0, 0.24), uniform_axis(16, 0.0, 0.16)};
  p.layer_friction = true;
  p.depth = Array2(24, 16, 0.05);
  p.vents.push_back({3, 8, 1e-4, 5e4, inertial, 0.5, p.fluid.temperature});
  p.vents.push_back({20, 8, 1e-4, 5e4, inertial, -0.5, p.fluid.temperature});
  return p;
}

VentFlow flow_of(const Problem& p, std::size_t k, const State& s) {
  const CellVent& v = p.vents[k];
  return vent_flow(p.fluid, v, s.pressure(v.i, v.j), s.temperature(v.i, v.j));
}

}  // namespace

TEST_CASE("a vent's slope is the derivative of its flow", "[laws]") {
  const Fluid fluid;
  CellVent v{0, 0, 2e-4, 1e5, 1.4, 0.0, fluid.temperature};
  for (const double p : {-30.0, -0.2, -1e-5, 0.0, 1e-5, 0.2, 30.0}) {
    const double h = 1e-6 * std::max(1.0, std::abs(p));
    const double up = vent_flow(fluid, v, p - h, fluid.temperature).mass,
                 down = vent_flow(fluid, v, p + h, fluid.temperature).mass;
    CHECK(vent_flow(fluid, v, p, fluid.temperature).slope == Approx((up - down) / (2 * h)).epsilon(1e-4));
    const double w = vent_flow(fluid, v, p, fluid.temperature).mass / (fluid.density * v.area);
    CHECK(
        -p ==
        Approx(v.viscous * fluid.viscosity * w + v.inertial * fluid.density * w * std::abs(w)).margin(1e-12));
  }
}

TEST_CASE("what comes in at one vent leaves at the other, by the vents' own law", "[balance]") {
  for (const double inertial : {0.0, 1.3}) {
    const Problem p = box_with_vents(inertial);
    const Solved s = solved(p);
    INFO(s.summary.message);
    REQUIRE(s.summary.converged());
    const double in = flow_of(p, 0, s.state).mass, out = flow_of(p, 1, s.state).mass;
    CHECK(in > 0.0);
    CHECK(in + out == Approx(0.0).margin(1e-10 * in));
    CHECK(s.summary.newton.audit.mass_in == Approx(in).epsilon(1e-9));
    // Two equal openings in series share the head; the layer itself takes very little of it.
    const double half = vent_flow(p.fluid, p.vents[0], 0.0, p.fluid.temperature).mass;
    CHECK(in == Approx(half).epsilon(0.01));
  }
}

TEST_CASE("vents bring the temperature of the air beyond", "[balance]") {
  Problem p = box_with_vents(1.3);
  p.vents[0].temperature += 15.0;
  const Solved s = solved(p);
  INFO(s.summary.message);
  REQUIRE(s.summary.converged());
  CHECK(s.state.temperature(20, 8) == Approx(p.fluid.temperature + 15.0).epsilon(1e-6));
}

TEST_CASE("marching through vents ends where the steady solver is", "[balance]") {
  const Problem p = box_with_vents(1.3);
  const Solved s = solved(p);
  REQUIRE(s.summary.converged());
  Marcher m(p, still_state(p));
  for (int k = 0; k < 400; ++k) REQUIRE(m.step(0.05).finite);
  CHECK(flow_of(p, 0, m.state()).mass == Approx(flow_of(p, 0, s.state).mass).epsilon(1e-3));
}

TEST_CASE("round-off is no difference of temperatures; a vent's air is one", "[balance]") {
  Problem p = box_with_vents(1.3);
  State s = still_state(p);
  const double still = scales_of(p, &s).temperature;
  s.temperature(3, 3) += 1e-13 * s.temperature(3, 3);
  CHECK(scales_of(p, &s).temperature == still);
  p.vents[0].temperature += 15.0;
  CHECK(scales_of(p, nullptr).temperature == Approx(15.0));
}

TEST_CASE("a vent in a solid cell is refused by name", "[messages]") {
  Problem p = box_with_vents(1.0);
  p.solid = Mask(24, 16);
  p.solid(20, 8) = 1;
  CHECK_THAT(p.problem(), Catch::Contains("vents[1]") && Catch::Contains("solid"));
}
