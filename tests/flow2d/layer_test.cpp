// Thin layers: friction on both faces and a depth that varies.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/flow2d/laws.hpp"
#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

/// Layer of air, flow from left to right between frictionless sides.
Problem layer(int nx, int ny, double length, double velocity) {
  Problem p;
  p.grid = Grid{uniform_axis(nx, 0.0, length), uniform_axis(ny, 0.0, 0.02)};
  p.energy = false;
  p.layer_friction = true;
  p.momentum_factor = 1.2;
  set_slip(&p, Side::bottom);
  set_slip(&p, Side::top);
  Edge in;
  in.kind = EdgeKind::inflow;
  in.normal = velocity;
  in.temperature = p.fluid.temperature;
  p.set_side(Side::left, in);
  Edge out;
  out.kind = EdgeKind::outlet;
  p.set_side(Side::right, out);
  return p;
}

}  // namespace

TEST_CASE("a plane layer loses 12 mu U / h2, a Fanning f Re of 24", "[published]") {
  Problem p = layer(20, 4, 0.1, 0.05);
  const double h = 0.004;
  p.depth = Array2(20, 4, h);
  const Solved s = solved(p);
  INFO(s.found.message);
  REQUIRE(s.found.steady());
  const double gradient = (s.state.pressure(5, 1) - s.state.pressure(15, 1)) / 0.05;
  // Parallel plates: f Re = 24 on D = 2h (Shah & London 1978), f = dp/dx D / (2 rho U^2), Re = rho U D / mu.
  const double f_re = gradient * 2 * h * 2 * h / (2 * 0.05 * p.fluid.viscosity);
  CHECK(f_re == Approx(24.0).epsilon(1e-6));
}

TEST_CASE("a duct seen from the side develops the same friction", "[published]") {
  double f_re[2];
  for (int k = 0; k < 2; ++k) {
    const int n = k == 0 ? 12 : 24;
    Problem p = unit_box(uniform_axis(3 * n, 0.0, 3.0), uniform_axis(n, 0.0, 1.0));
    p.energy = false;
    Edge in;
    in.kind = EdgeKind::inflow;
    in.normal = 1.0;  // Re = 2 on the hydraulic diameter: developed after a height or two
    p.set_side(Side::left, in);
    Edge out;
    out.kind = EdgeKind::outlet;
    p.set_side(Side::right, out);
    const Solved s = solved(p);
    REQUIRE(s.found.steady());
    const double gradient = (s.state.pressure(2 * n, n / 2) - s.state.pressure(2 * n + n / 2, n / 2)) / 0.5;
    f_re[k] = gradient * 4.0 / 2.0;
    CHECK(f_re[k] == Approx(24.0).epsilon(2.5 / (n * n)));
  }
  CHECK(richardson(f_re[0], f_re[1]) == Approx(24.0).epsilon(5e-4));
}

TEST_CASE("a narrowing layer follows the lubrication solution", "[published]") {
  // Reynolds' equation in one dimension: dp/dx = -12 mu q / h^3, q = U h the flow per width. With h linear
  // from h0 to h1 over L the drop is 12 mu q L (1/h1^2 - 1/h0^2) / (2 (h0 - h1)) (exact integral). Creeping:
  // Re h/L << 1.
  const double h0 = 0.002, h1 = 0.001, L = 0.1, U = 1e-3;
  double last_error = 0.0;
  for (const int n : {32, 64}) {
    Problem p = layer(n, 4, L, U);
    p.fluid.viscosity = 1.0;  // thick enough that inertia and the side-to-side shear of the layer vanish
    p.depth = Array2(n, 4);
    for (int j = 0; j < 4; ++j)
      for (int i = 0; i < n; ++i)
        p.depth(i, j) = h0 + (h1 - h0) * p.grid.x.centres()[static_cast<std::size_t>(i)] / L;
    const Solved s = solved(p);
    INFO(s.found.message);
    REQUIRE(s.found.steady());
    const double q = s.found.newton.audit.mass_in / (p.fluid.density * 0.02);
    // Between two cell centres, so that no rim is involved.
    const int a = n / 4, b = 3 * n / 4;
    const double ha = p.depth(a, 1), hb = p.depth(b, 1),
                 distance = p.grid.x.centres()[static_cast<std::size_t>(b)] -
                            p.grid.x.centres()[static_cast<std::size_t>(a)];
    const double exact = 12.0 * q * distance * (1 / (hb * hb) - 1 / (ha * ha)) / (2 * (ha - hb));
    const double error = std::abs((s.state.pressure(a, 1) - s.state.pressure(b, 1)) / exact - 1.0);
    CHECK(error < 1e-3);
    if (last_error > 0.0) CHECK(error < 0.4 * last_error);
    last_error = error;
  }
}

TEST_CASE("friction turns smoothly from laminar to Blasius", "[laws]") {
  const double rho = 1.2, mu = 1.8e-5, h = 0.005;
  const auto factor = [&](double reynolds) {
    const double speed = reynolds * mu / (rho * 2 * h);
    return layer_friction(rho, mu, h, speed) * speed * 2 * 2 * h / (rho * speed * speed);  // Darcy
  };
  CHECK(factor(100.0) == Approx(0.96).epsilon(1e-3));
  CHECK(factor(1e5) == Approx(0.3164 * std::pow(1e5, -0.25)).epsilon(1e-3));
  CHECK(layer_friction(rho, mu, h, 0.0) == Approx(12 * mu / (h * h)));
}
