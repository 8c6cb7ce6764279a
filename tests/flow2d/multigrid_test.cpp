#include <omp.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <vector>

#include "solver/flow2d/multigrid.hpp"
#include "solver/flow2d/multigrid_wavefront.hpp"
#include "tests/support/tanh_axis.hpp"

using namespace tuft::field;
using tuft::test::tanh_axis;

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

/// Residual over right-hand side in the root mean square, from the equation as it was given; for cases with
/// an outlet, where no mean is taken out.
double residual(const Case& c, const Array2& x) {
  const int nx = c.b.nx(), ny = c.b.ny();
  const auto value = [&](int i, int j) { return i < 0 || j < 0 || i >= nx || j >= ny ? 0.0 : x(i, j); };
  double left = 0.0, right = 0.0;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const PressureEquation& e = c.equation;
      const double s = x(i, j),
                   image = e.ax(i, j) * (s - value(i - 1, j)) + e.ax(i + 1, j) * (s - value(i + 1, j)) +
                           e.ay(i, j) * (s - value(i, j - 1)) + e.ay(i, j + 1) * (s - value(i, j + 1)) +
                           (e.held.empty() ? 0.0 : e.held(i, j) * s);
      left += (c.b(i, j) - image) * (c.b(i, j) - image);
      right += c.b(i, j) * c.b(i, j);
    }
  return std::sqrt(left / right);
}

Mask checkered(int n) {
  Mask blocks(n, n);
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) blocks(i, j) = (i / 16) % 2 == 1 && (j / 16) % 2 == 1;
  return blocks;
}

}  // namespace

// The coarse grids are kept in single precision: they must not limit what the finest one comes to.
TEST_CASE("the residual of the given equation falls to round-off", "[multigrid]") {
  MultigridOptions options;
  options.tolerance = 1e-13;
  for (const int n : {7, 33, 64, 150})
    for (const bool blocks : {false, true})
      for (const bool held_cells : {false, true}) {
        Case c = make_case(uniform_axis(n, 0.0, 1.0), blocks ? checkered(n) : Mask(n, n), true);
        if (held_cells) {
          c.equation.held = Array2(n, n);
          c.equation.held(n / 3, n / 4) = 5.0;
        }
        Array2 x;
        const MultigridSummary s = solve(c, &x, options);
        INFO(n << " cells a side, blocks " << blocks << ", held " << held_cells << ": " << s.message);
        CHECK(s.converged);
        CHECK(residual(c, x) < 2e-13);
        // From there on a start is as good as its residual says.
        const MultigridSummary again = Multigrid(c.grid, c.equation).solve(c.b, &x);
        CHECK(again.cycles == 0);
        CHECK(residual(c, x) < 2e-13);
      }
}

TEST_CASE("all stages come to all rows once and in order, in any number of bands", "[multigrid]") {
  const int before = omp_get_max_threads();
  for (const int threads : {1, 2, 3, 5})
    for (const int rows : {1, 8, 97, 150}) {
      omp_set_num_threads(threads);
      constexpr int stages = 7;
      std::vector<std::atomic<int>> done(static_cast<std::size_t>(rows));
      std::atomic<int> wrong{0};
      const auto stage_of = [&](int j) { return done[static_cast<std::size_t>(j)].load(); };
      for (const std::size_t cells : {std::size_t{100}, std::size_t{10000}, std::size_t{1000000}}) {
        for (auto& d : done) d = 0;
        wavefront(rows, stages, cells, [&](int s, int j, int end) {
          for (int row = j; row < end; ++row) {
            if (stage_of(row) != s) ++wrong;
            for (const int beside : {row - 1, row + 1})
              if (beside >= 0 && beside < rows && (stage_of(beside) < s || stage_of(beside) > s + 1)) ++wrong;
            ++done[static_cast<std::size_t>(row)];
          }
        });
        CHECK(wrong == 0);
        for (const auto& d : done) CHECK(d == stages);
      }
    }
  omp_set_num_threads(before);
}

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

TEST_CASE("any number of threads gives the same bytes", "[multigrid]") {
  const int before = omp_get_max_threads();
  struct {
    int n;
    double stretch;
    bool blocks;
  } const cases[] = {{256, 0.0, false}, {256, 1.5, false}, {231, 0.0, true}};
  for (const auto& k : cases) {
    const Axis axis = k.stretch > 0.0 ? tanh_axis(k.n, 0.0, 1.0, k.stretch) : uniform_axis(k.n, 0.0, 1.0);
    const Case c = make_case(axis, k.blocks ? checkered(k.n) : Mask(k.n, k.n), false);
    Array2 one, more;
    omp_set_num_threads(1);
    solve(c, &one);
    for (const int threads : {2, 3}) {
      omp_set_num_threads(threads);
      solve(c, &more);
      CHECK(std::memcmp(one.data(), more.data(), one.size() * sizeof(double)) == 0);
    }
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
