// What the discrete equations must get right on any grid, to round-off.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/flow2d/residual.hpp"
#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

double largest(const Array2& a) {
  double out = 0.0;
  for (double x : a.values()) out = std::max(out, std::abs(x));
  return out;
}

}  // namespace

TEST_CASE("uniform flow passes a stretched grid unchanged", "[exact]") {
  for (const Convection scheme : {Convection::central, Convection::limited, Convection::upwind}) {
    Problem p = unit_box(tanh_axis(14, 0.0, 2.0, 2.0), tanh_axis(10, 0.0, 1.0, 1.5));
    p.momentum_scheme = p.energy_scheme = scheme;
    p.fluid.viscosity = 0.01;
    Edge e;
    e.kind = EdgeKind::inflow;
    e.temperature = 0.3;
    const double u = 1.3, v = -0.7;
    e.normal = u;
    e.tangential = v;
    p.set_side(Side::left, e);
    p.set_side(Side::right, e);
    e.normal = v;
    e.tangential = u;
    p.set_side(Side::bottom, e);
    p.set_side(Side::top, e);
    State s = still_state(p), r = s;
    s.u().fill(u);
    s.v().fill(v);
    s.temperature.fill(0.3);
    Residual residual(p);
    residual.evaluate(s, &r);
    CHECK(largest(r.u()) < 1e-14);
    CHECK(largest(r.v()) < 1e-14);
    CHECK(largest(r.pressure) < 1e-14);
    CHECK(largest(r.temperature) < 1e-14);
  }
}

TEST_CASE("still air stays still in any pose", "[exact]") {
  // T linear along gravity, on a stretched grid whose walls hold it: air at rest is an exact solution.
  for (const double angle : {0.0, 0.4, 1.1, 2.0, 3.0, 4.5, 5.9}) {
    Problem p = unit_box(tanh_axis(12, 0.0, 1.0, 1.8), tanh_axis(10, 0.0, 0.7, 1.2));
    const double gx = std::sin(angle), gy = -std::cos(angle);
    p.gravity = {9.81 * gx, 9.81 * gy};
    p.fluid.expansion = 1.0 / 300.0;
    p.fluid.viscosity = 0.1;
    const auto stratified = [&](double x, double y) { return -(gx * x + gy * y); };  // warm above
    const auto wall = [&](double x, double y) {
      Edge e;
      e.heat = HeatKind::temperature;
      e.temperature = stratified(x, y);
      return e;
    };
    for (double y : p.grid.y.centres()) {
      p.edges[0].push_back(wall(0.0, y));
      p.edges[1].push_back(wall(1.0, y));
    }
    for (double x : p.grid.x.centres()) {
      p.edges[2].push_back(wall(x, 0.0));
      p.edges[3].push_back(wall(x, 0.7));
    }
    const Solved s = solved(p);
    INFO(s.found.message);
    REQUIRE(s.found.steady());
    CHECK(largest(s.state.u()) < 1e-12);
    CHECK(largest(s.state.v()) < 1e-12);
    for (int j = 0; j < p.grid.ny(); ++j)
      for (int i = 0; i < p.grid.nx(); ++i)
        CHECK(s.state.temperature(i, j) == Approx(stratified(p.grid.x.centres()[static_cast<std::size_t>(i)],
                                                             p.grid.y.centres()[static_cast<std::size_t>(j)]))
                                               .margin(1e-11));
  }
}

TEST_CASE("air of the room's temperature feels no gravity at all", "[exact]") {
  Problem p;
  p.grid = Grid{tanh_axis(8, 0.0, 0.3, 1.0), uniform_axis(8, 0.0, 0.2)};
  p.gravity = {3.0, -9.0};
  Edge out;
  out.kind = EdgeKind::outlet;
  p.set_side(Side::top, out);
  p.set_side(Side::left, out);
  State s = still_state(p), r = s;
  Residual(p).evaluate(s, &r);
  for (const Array2* a : {&r.u(), &r.v(), &r.pressure, &r.temperature}) CHECK(largest(*a) == 0.0);
}

TEST_CASE("a broken rule is named before anything is solved", "[messages]") {
  Problem p = heated_cavity(8, 1e3);
  p.fluid.viscosity = -1.0;
  CHECK_THROWS_WITH(solved(p), Catch::Contains("fluid.viscosity"));
  CHECK_THROWS_AS(Axis({0.0, 1.0, 1.0}), std::invalid_argument);
}
