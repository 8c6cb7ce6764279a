// Books that must balance, by the names of the laws.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// Air through a duct with a heated block in it: real air by the gas law, gravity across, an outlet at right.
Problem block_in_duct() {
  Problem p;
  p.grid = Grid{uniform_axis(48, 0.0, 0.12), uniform_axis(24, 0.0, 0.03)};
  p.fluid.sutherland = 110.4;  // Sutherland's temperature of air (from memory)
  p.gravity = {0.0, -9.80665};
  Edge in;
  in.kind = EdgeKind::inflow;
  in.normal = 0.3;
  in.temperature = p.fluid.temperature;
  p.set_side(Side::left, in);
  Edge out;
  out.kind = EdgeKind::outlet;
  p.set_side(Side::right, out);
  p.solid = Mask(48, 24);
  p.solid_conductivity = Array2(48, 24);
  p.heat_source = Array2(48, 24);
  for (int j = 0; j < 8; ++j)
    for (int i = 14; i < 24; ++i) {
      p.solid(i, j) = 1;
      p.solid_conductivity(i, j) = 20.0;
      p.heat_source(i, j) = 2.0e4;
    }
  return p;
}

double block_power(const Problem& p) {
  double sum = 0.0;
  for (double q : p.heat_source.values()) sum += q;
  return sum * 0.0025 * 0.00125;
}

}  // namespace

TEST_CASE("mass in equals mass out and heat in equals heat out", "[balance]") {
  const Problem p = block_in_duct();
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  const Audit& a = s.found.newton.audit;
  CHECK(std::abs(a.mass_in - a.mass_out) <= 1e-10 * a.mass_in);
  CHECK(a.mass <= 1e-10);
  CHECK(a.energy <= 1e-7);
  // Some air comes back in through the outlet behind the block, at T_ref: it carries no heat.
  CHECK(a.mass_in >= 1.204 * 0.3 * 0.03 * (1 - 1e-12));
  CHECK(a.heat_out == Approx(block_power(p)).epsilon(1e-7));
  CHECK(s.state.temperature(18, 4) > s.state.temperature(47, 4));
}

TEST_CASE("a block and the air around it share one temperature at their face", "[balance]") {
  // Conduction alone through a solid of conductivity 9 and still air of 1, half the way each: the end
  // temperatures differ by 1, so the face between lies at 0.1 from the solid's end.
  Problem p = unit_box(uniform_axis(20, 0.0, 1.0), uniform_axis(4, 0.0, 0.2));
  p.solid = Mask(20, 4);
  p.solid_conductivity = Array2(20, 4);
  for (int j = 0; j < 4; ++j)
    for (int i = 0; i < 10; ++i) {
      p.solid(i, j) = 1;
      p.solid_conductivity(i, j) = 9.0;
    }
  Edge wall;
  wall.heat = HeatKind::temperature;
  wall.temperature = 1.0;
  p.set_side(Side::left, wall);
  wall.temperature = 0.0;
  p.set_side(Side::right, wall);
  const Solved s = solved(p);
  REQUIRE(s.found.steady());
  CHECK(s.found.newton.audit.heat_in == Approx(0.2 * 1.8).epsilon(1e-8));  // 0.2 / (0.5/9 + 0.5/1)
  CHECK(s.state.temperature(9, 1) == Approx(1.0 - 0.1 * 9.5 / 10.0).epsilon(1e-8));
  CHECK(s.state.temperature(10, 1) == Approx(0.9 * 9.5 / 10.0).epsilon(1e-8));
}

TEST_CASE("warm air in an open shaft rises and draws air in below", "[balance]") {
  Problem p;
  p.grid = Grid{uniform_axis(12, 0.0, 0.02), uniform_axis(48, 0.0, 0.2)};
  p.gravity = {0.0, -9.80665};
  Edge open;
  open.kind = EdgeKind::outlet;
  open.inertial_in = 0.5;  // air that enters comes from rest
  open.temperature = p.fluid.temperature;
  p.set_side(Side::bottom, open);
  p.set_side(Side::top, open);
  Edge hot;
  hot.heat = HeatKind::temperature;
  hot.temperature = p.fluid.temperature + 30.0;
  p.set_side(Side::left, hot);
  p.set_side(Side::right, hot);
  const Solved up = solved(p);
  INFO(up.found.message);
  REQUIRE(up.found.steady());
  CHECK(up.found.newton.audit.mass_in > 0.0);
  CHECK(up.state.v()(6, 0) > 0.0);
  CHECK(up.state.v()(6, 48) > 0.0);
  SECTION("turned upside down it flows the other way, just as much") {
    p.gravity[1] = 9.80665;
    const Solved down = solved(p);
    REQUIRE(down.found.steady());
    CHECK(down.state.v()(6, 24) == Approx(-up.state.v()(6, 24)).epsilon(1e-6));
    CHECK(down.found.newton.audit.heat_in == Approx(up.found.newton.audit.heat_in).epsilon(1e-6));
  }
}

TEST_CASE("air put into cells leaves through the outlet with its heat", "[balance]") {
  Problem p;
  p.grid = Grid{uniform_axis(20, 0.0, 0.1), uniform_axis(16, 0.0, 0.08)};
  Edge out;
  out.kind = EdgeKind::outlet;
  p.set_side(Side::right, out);
  p.mass_source = Array2(20, 16);
  p.source_temperature = Array2(20, 16, p.fluid.temperature + 12.0);
  p.mass_source(4, 8) = p.mass_source(5, 8) = 2.0;
  const double flow = 2.0 * 2.0 * 0.005 * 0.005;
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  CHECK(s.found.newton.audit.mass_out == Approx(flow).epsilon(1e-9));
  CHECK(s.found.newton.audit.heat_out == Approx(flow * p.fluid.specific_heat * 12.0).epsilon(1e-7));
}
