// The time-accurate mode.
#include <omp.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <cstring>

#include "tests/flow2d/field_support.hpp"

using namespace tuft::flow2d;
using namespace tuft::flow2d::test;

namespace {

const double pi = std::acos(-1.0);

/// Taylor-Green vortex in a box of free-slip sides, u = sin(pi x) cos(pi y) exp(-2 pi^2 nu t), with warm air
/// in it.
Problem vortex_box(int n, double gravity) {
  Problem p = unit_box(uniform_axis(n, 0.0, 1.0), uniform_axis(n, 0.0, 1.0));
  p.fluid.viscosity = 0.02;
  p.fluid.conductivity = 0.03;
  p.gravity = {0.0, -gravity};
  for (const Side side : {Side::left, Side::right, Side::bottom, Side::top}) set_slip(&p, side);
  return p;
}

State vortex(const Problem& p) {
  State s = still_state(p);
  const int n = p.grid.nx();
  const double h = 1.0 / n;
  for (int j = 0; j < n; ++j)
    for (int i = 0; i <= n; ++i) {
      s.u()(i, j) = std::sin(pi * i * h) * std::cos(pi * (j + 0.5) * h);
      s.v()(j, i) = -std::cos(pi * (j + 0.5) * h) * std::sin(pi * i * h);
    }
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i)
      s.temperature(i, j) = std::cos(pi * (i + 0.5) * h) + std::cos(pi * (j + 0.5) * h);
  impose_given_velocities(p, &s);
  return s;
}

State run(const Problem& p, double end, int steps) {
  InTime run(p, vortex(p), end / steps);
  run.to(end);
  REQUIRE(run.good);
  REQUIRE(run.mass <= 1e-10);
  return run.state();
}

double distance(const Array2& a, const Array2& b) {
  double sum = 0.0;
  for (std::size_t k = 0; k < a.size(); ++k) sum += (a[k] - b[k]) * (a[k] - b[k]);
  return std::sqrt(sum / static_cast<double>(a.size()));
}

}  // namespace

TEST_CASE("halving the time step quarters the error", "[order]") {
  const Problem p = vortex_box(16, 3.0);
  const State a = run(p, 0.4, 20), b = run(p, 0.4, 40), c = run(p, 0.4, 80);
  const double order_u = std::log2(distance(a.u(), b.u()) / distance(b.u(), c.u()));
  const double order_t =
      std::log2(distance(a.temperature, b.temperature) / distance(b.temperature, c.temperature));
  std::printf("march: observed order %.2f (u), %.2f (T)\n", order_u, order_t);
  CHECK(order_u > 1.85);
  CHECK(order_t > 1.85);
  CHECK(order_u < 2.6);
}

TEST_CASE("the Taylor-Green vortex decays at its exact rate", "[exact]") {
  const Problem p = vortex_box(32, 0.0);
  InTime run(p, vortex(p), 0.01);
  const double start = run.march.kinetic_energy();
  run.to(0.5);
  CHECK(run.march.kinetic_energy() / start == Approx(std::exp(-4 * pi * pi * 0.02 * 0.5)).epsilon(2e-3));
}

TEST_CASE("a steady solution stands still in time", "[exact]") {
  Problem p = heated_cavity(24, 1e4, 1.0);
  const Solved s = solved(p);
  REQUIRE(s.found.steady());
  InTime run(p, s.state, 1e-3);
  for (int k = 1; k <= 5; ++k) {
    run.to(1e-3 * k);
    CHECK(run.last.change < 1e-7);
    CHECK(run.mass <= 1e-10);
  }
}

TEST_CASE("time-accurate steps keep mass with variable density and outlets", "[balance]") {
  Problem p;
  p.grid = Grid{uniform_axis(12, 0.0, 0.02), uniform_axis(24, 0.0, 0.1)};
  p.gravity = {0.0, -9.80665};
  Edge open;
  open.kind = EdgeKind::outlet;
  open.inertial_in = 0.5;  // air that enters comes from rest
  p.set_side(Side::bottom, open);
  p.set_side(Side::top, open);
  Edge hot;
  hot.heat = HeatKind::temperature;
  hot.temperature = p.fluid.temperature + 40.0;
  p.set_side(Side::left, hot);
  const Solved steady = solved(p);
  INFO(steady.found.message);
  REQUIRE(steady.found.steady());
  InTime m(p, still_state(p), 0.02);
  m.to(6.0);
  REQUIRE(m.good);
  CHECK(m.mass <= 1e-10);
  CHECK(m.energy <= 1e-7);
  // Left to itself the shaft ends up in the state that the steady solver found at once.
  CHECK(m.state().v()(3, 12) == Approx(steady.state.v()(3, 12)).epsilon(0.01));
}

TEST_CASE("marching gives the same bytes on one thread and two", "[threads]") {
  // A long layer: as many cells as are shared among threads, and cheap factors.
  Problem p = unit_box(uniform_axis(4200, 0.0, 420.0), uniform_axis(10, 0.0, 1.0));
  p.gravity = {0.0, -100.0};
  State start = still_state(p);
  for (int j = 0; j < 10; ++j)
    for (int i = 0; i < 4200; ++i) start.temperature(i, j) = std::cos(0.1 * i) + 0.1 * j;
  const auto marched = [&] {
    InTime run(p, start, 2e-3);
    run.to(6e-3);
    REQUIRE(run.good);
    return run.state();
  };
  const int before = omp_get_max_threads();
  omp_set_num_threads(1);
  const State one = marched();
  omp_set_num_threads(2);
  const State two = marched();
  omp_set_num_threads(before);
  CHECK(std::memcmp(one.u().data(), two.u().data(), one.u().size() * sizeof(double)) == 0);
  CHECK(std::memcmp(one.pressure.data(), two.pressure.data(), one.pressure.size() * sizeof(double)) == 0);
}
