#include <omp.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <cstring>

#include "solver/field/multigrid.hpp"

using namespace tuft::field;

namespace {

struct Case {
  Grid grid;
  PressureEquation equation;
  Array2 b;
};

/// Pressure equation of the grid with some cells solid, p held on the right-hand rim when `held`.
Case make_case(const Axis& axis, const Mask& solid, bool held) {
  const int n = axis.n();
  Case c{Grid{axis, axis}, {Array2(n + 1, n), Array2(n, n + 1), {}}, Array2(n, n)};
  unsigned seed = 1;
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) {
      seed = seed * 1664525u + 1013904223u;
      if (solid(i, j)) continue;
      c.b(i, j) = seed / 4294967296.0 - 0.5;
      const auto I = static_cast<std::size_t>(i), J = static_cast<std::size_t>(j);
      if (i > 0 && !solid(i - 1, j))
        c.equation.ax(i, j) = axis.widths()[J] / (axis.centres()[I] - axis.centres()[I - 1]);
      if (j > 0 && !solid(i, j - 1))
        c.equation.ay(i, j) = axis.widths()[I] / (axis.centres()[J] - axis.centres()[J - 1]);
      if (held && i == n - 1) c.equation.ax(n, j) = axis.widths()[J] / (0.5 * axis.widths()[I]);
    }
  return c;
}

MultigridSummary solve(const Case& c, Array2* x, const MultigridOptions& options = {}) {
  *x = Array2(c.b.nx(), c.b.ny());
  return Multigrid(c.grid, c.equation, options).solve(c.b, x);
}

}  // namespace

TEST_CASE("ten orders in twelve cycles on uniform grids of any size", "[multigrid]") {
  for (const int n : {16, 50, 64, 128})
    for (const bool held : {false, true}) {
      const Case c = make_case(uniform_axis(n, 0.0, 1.0), Mask(n, n), held);
      Array2 x;
      const MultigridSummary s = solve(c, &x);
      INFO(n << " cells a side: " << s.message);
      CHECK(s.converged);
      CHECK(s.cycles <= 12);
    }
}

TEST_CASE("stretching, blocks and thin walls cost few cycles more", "[multigrid]") {
  const int n = 96;
  Mask blocks(n, n), wall(n, n), sealed(n, n);
  for (int k = 0; k < n; ++k)
    for (int i = 0; i < n; ++i) {
      blocks(i, k) = (i / 16) % 2 == 1 && (k / 16) % 2 == 1;
      wall(i, k) = k == n / 3 && i < n - 5;
      sealed(i, k) = k == n / 2;  // two bodies of air, each with a pressure level of its own
    }
  struct {
    const char* name;
    Axis axis;
    const Mask* solid;
    int most;
  } const cases[] = {{"stretched", tanh_axis(n, 0.0, 1.0, 2.0), nullptr, 20},
                     {"blocks", uniform_axis(n, 0.0, 1.0), &blocks, 20},
                     {"thin wall", uniform_axis(n, 0.0, 1.0), &wall, 20},
                     {"stretched, thin wall", tanh_axis(n, 0.0, 1.0, 2.0), &wall, 20},
                     {"sealed", uniform_axis(n, 0.0, 1.0), &sealed, 20}};
  for (const auto& k : cases) {
    const Case c = make_case(k.axis, k.solid ? *k.solid : Mask(n, n), false);
    Array2 x;
    const MultigridSummary s = solve(c, &x);
    std::printf("multigrid, %-22s %s\n", k.name, s.message.c_str());
    INFO(k.name << ": " << s.message);
    CHECK(s.converged);
    CHECK(s.cycles <= k.most);
  }
}

TEST_CASE("one thread and two give the same bytes", "[multigrid]") {
  const int n = 256, before = omp_get_max_threads();
  for (const double stretch : {0.0, 1.5}) {
    const Axis axis = stretch > 0.0 ? tanh_axis(n, 0.0, 1.0, stretch) : uniform_axis(n, 0.0, 1.0);
    const Case c = make_case(axis, Mask(n, n), false);
    Array2 one, two;
    omp_set_num_threads(1);
    solve(c, &one);
    omp_set_num_threads(2);
    solve(c, &two);
    CHECK(std::memcmp(one.data(), two.data(), one.size() * sizeof(double)) == 0);
  }
  omp_set_num_threads(before);
}

TEST_CASE("too few cycles are reported as such", "[messages]") {
  MultigridOptions options;
  options.max_cycles = 2;
  const Case c = make_case(uniform_axis(32, 0.0, 1.0), Mask(32, 32), false);
  Array2 x;
  const MultigridSummary s = solve(c, &x, options);
  CHECK_FALSE(s.converged);
  CHECK_THAT(s.message, Catch::Contains("not converged") && Catch::Contains("2 cycles"));
}
