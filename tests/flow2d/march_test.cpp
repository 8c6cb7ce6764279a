// The time-accurate mode.
#include <omp.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <cstring>

#include "solver/flow2d/march.hpp"
#include "tests/flow2d/field_support.hpp"

using namespace tuft::field;
using namespace tuft::field::test;

namespace {

const double pi = std::acos(-1.0);

/// Taylor-Green vortex in a box of free-slip sides, u = sin(pi x) cos(pi y) exp(-2 pi^2 nu t), with warm air
/// in it.
Problem vortex_box(int n, double gravity) {
  Problem p = unit_box(uniform_axis(n, 0.0, 1.0), uniform_axis(n, 0.0, 1.0));
  p.fluid.viscosity = 0.02;
  p.fluid.conductivity = 0.03;
  p.gravity = {0.0, -gravity};
  Edge slip;
  slip.kind = EdgeKind::symmetry;
  for (const Side side : {Side::left, Side::right, Side::bottom, Side::top}) p.set_side(side, slip);
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

State run(const Problem& p, double end, int steps, double first = 0.0) {
  Marcher m(p, vortex(p));
  (void)first;
  for (int k = 0; k < steps; ++k) {
    const StepSummary s = m.step(end / steps);
    REQUIRE(s.finite);
    REQUIRE(s.pressure_solved);
  }
  return m.state();
}

double distance(const Array2& a, const Array2& b) {
  double sum = 0.0;
  for (std::size_t k = 0; k < a.size(); ++k) sum += (a[k] - b[k]) * (a[k] - b[k]);
  return std::sqrt(sum / static_cast<double>(a.size()));
}

}  // namespace

TEST_CASE("halving the time step quarters the error", "[order]") {
  const Problem p = vortex_box(16, 3.0);
  const State reference = run(p, 0.4, 640);
  std::printf("march: steps   error u    error T\n");
  double last_u = 0.0, last_t = 0.0, order_u = 0.0, order_t = 0.0;
  for (const int steps : {20, 40, 80}) {
    const State s = run(p, 0.4, steps);
    const double u = distance(s.u(), reference.u()), t = distance(s.temperature, reference.temperature);
    std::printf("%12d %10.3e %10.3e\n", steps, u, t);
    if (last_u > 0.0) {
      order_u = std::log2(last_u / u);
      order_t = std::log2(last_t / t);
    }
    last_u = u;
    last_t = t;
  }
  std::printf("observed order %.2f (u), %.2f (T)\n", order_u, order_t);
  CHECK(order_u > 1.85);
  CHECK(order_t > 1.85);
  CHECK(order_u < 2.6);
}

TEST_CASE("the Taylor-Green vortex decays at its exact rate", "[exact]") {
  const Problem p = vortex_box(32, 0.0);
  Marcher m(p, vortex(p));
  const double start = m.kinetic_energy();
  while (m.time() < 0.5 - 1e-9) m.step(0.01);
  CHECK(m.kinetic_energy() / start == Approx(std::exp(-4 * pi * pi * 0.02 * 0.5)).epsilon(2e-3));
}

TEST_CASE("a steady solution stands still in time", "[exact]") {
  Problem p = heated_cavity(24, 1e4, 1.0);
  const Solved s = solved(p);
  REQUIRE(s.summary.converged());
  Marcher m(p, s.state);
  for (int k = 0; k < 5; ++k) {
    const StepSummary step = m.step(1e-3);
    CHECK(step.change < 1e-7 * step.largest);
    CHECK(step.mass < 1e-9 * step.largest);
  }
}

TEST_CASE("time-accurate steps keep mass with variable density and outlets", "[balance]") {
  Problem p;
  p.grid = Grid{uniform_axis(12, 0.0, 0.02), uniform_axis(24, 0.0, 0.1)};
  p.gravity = {0.0, -9.80665};
  Edge open;
  open.kind = EdgeKind::outlet;
  p.set_side(Side::bottom, open);
  p.set_side(Side::top, open);
  Edge hot;
  hot.heat = HeatKind::temperature;
  hot.temperature = p.fluid.temperature + 40.0;
  p.set_side(Side::left, hot);
  const Solved steady = solved(p);
  INFO(steady.summary.message);
  REQUIRE(steady.summary.converged());
  // The first steps are left out: where air at an outlet turns within a step, its density is that of the old
  // direction.
  Marcher m(p, still_state(p));
  double worst = 0.0;
  for (int k = 0; k < 20; ++k) m.step(m.step_for(0.4));
  for (int k = 0; k < 2600; ++k) {
    const StepSummary step = m.step(m.step_for(0.4));
    REQUIRE(step.finite);
    worst = std::max(worst, step.mass / (1.2 * std::max(step.largest, 1e-3) * 0.02));
  }
  CHECK(worst < 1e-8);
  // Left to itself the shaft ends up in the state that the steady solver found at once.
  CHECK(m.state().v()(3, 12) == Approx(steady.state.v()(3, 12)).epsilon(0.01));
}

TEST_CASE("marching gives the same bytes on one thread and two", "[threads]") {
  const Problem p = vortex_box(216, 1.0);
  const int before = omp_get_max_threads();
  omp_set_num_threads(1);
  const State one = run(p, 0.006, 3);
  omp_set_num_threads(2);
  const State two = run(p, 0.006, 3);
  omp_set_num_threads(before);
  CHECK(std::memcmp(one.u().data(), two.u().data(), one.u().size() * sizeof(double)) == 0);
  CHECK(std::memcmp(one.pressure.data(), two.pressure.data(), one.pressure.size() * sizeof(double)) == 0);
}
