// Backward-facing step at Re 800: Gartling D.K. (1990) Int. J. Numer. Meth. Fluids 11:953-967.
// Channel of height 1, step 1/2, inlet u = 24 y (1/2 - y) on the upper half, length 15 (30 in the original;
// public comparisons report the same flow to four digits).
#include <catch2/catch.hpp>
#include <cstdio>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// Mean inlet velocity between two heights, so that every grid takes in exactly the same flow.
double inlet_mean(double a, double b) {
  const auto flow = [](double y) { return y <= 0.0 ? 0.0 : 6.0 * y * y - 8.0 * y * y * y; };
  return (flow(b) - flow(a)) / (b - a);
}

/// Where the lower wall's flow turns from backward to forward.
double reattachment(int rows) {
  Problem p = unit_box(uniform_axis(rows * 5, 0.0, 15.0), uniform_axis(rows, -0.5, 0.5));
  p.energy = false;
  p.fluid.viscosity = 1.0 / 800.0;
  for (int j = 0; j < rows; ++j) {
    const double a = p.grid.y.faces()[static_cast<std::size_t>(j)],
                 b = p.grid.y.faces()[static_cast<std::size_t>(j) + 1];
    Edge e;
    if (a > -1e-9) e.kind = EdgeKind::inflow;
    if (a > -1e-9) e.normal = inlet_mean(a, b);
    p.edges[0].push_back(e);
  }
  Edge out;
  out.kind = EdgeKind::outlet;
  p.set_side(Side::right, out);
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  CHECK(s.found.newton.audit.mass <= 1e-10);
  CHECK(s.found.newton.audit.mass_in == Approx(0.5).epsilon(1e-12));
  const auto& x = p.grid.x.faces();
  double found = 0.0;
  for (std::size_t i = 1; i + 1 < x.size(); ++i) {
    const double u = s.state.u()(static_cast<int>(i), 0), next = s.state.u()(static_cast<int>(i) + 1, 0);
    if (u < 0.0 && next >= 0.0) found = x[i] + (x[i + 1] - x[i]) * u / (u - next);
  }
  return found;
}

}  // namespace

TEST_CASE("flow behind a step reattaches where Gartling found it", "[published][outside:1]") {
  const double coarse = reattachment(32), fine = reattachment(48);
  const double limit = fine + (fine - coarse) / (2.25 - 1.0);  // second order, ratio 3/2
  std::printf("reattachment: 32 rows %.3f, 48 rows %.3f, limit %.3f, Gartling 6.10\n", coarse, fine, limit);
  CHECK(fine == Approx(6.10).epsilon(0.03));
  CHECK(limit == Approx(6.10).epsilon(0.03));
}
