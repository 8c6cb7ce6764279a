// The pressure solver: linear cost, against general sparse solvers, and against the machine's memory.
#include <benchmark/benchmark.h>

#include <Eigen/IterativeLinearSolvers>
#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>
#include <vector>

#include "solver/flow2d/multigrid.hpp"
#include "tests/bench/field_clock.hpp"

namespace {

using namespace tuft::field;
using tuft::bench::timed;

/// Unit square, p held on the right-hand rim so that every solver faces a regular matrix; random right-hand
/// side.
struct Pressure {
  explicit Pressure(int n)
      : grid{uniform_axis(n, 0.0, 1.0), uniform_axis(n, 0.0, 1.0)},
        equation{Array2(n + 1, n), Array2(n, n + 1), {}},
        b(n, n),
        x(n, n) {
    unsigned seed = 1;
    for (int j = 0; j < n; ++j)
      for (int i = 0; i < n; ++i) {
        seed = seed * 1664525u + 1013904223u;
        b(i, j) = seed / 4294967296.0 - 0.5;
        if (i > 0) equation.ax(i, j) = 1.0;
        if (j > 0) equation.ay(i, j) = 1.0;
        if (i == n - 1) equation.ax(n, j) = 2.0;
      }
  }
  Eigen::SparseMatrix<double> matrix() const {
    const int n = grid.nx();
    std::vector<Eigen::Triplet<double>> entries;
    for (int j = 0; j < n; ++j)
      for (int i = 0; i < n; ++i) {
        const int k = i + n * j;
        double diagonal = 0.0;
        const auto couple = [&](double a, bool inside, int other) {
          diagonal += a;
          if (inside && a > 0.0) entries.emplace_back(k, other, -a);
        };
        couple(equation.ax(i, j), i > 0, k - 1);
        couple(equation.ax(i + 1, j), i + 1 < n, k + 1);
        couple(equation.ay(i, j), j > 0, k - n);
        couple(equation.ay(i, j + 1), j + 1 < n, k + n);
        entries.emplace_back(k, k, diagonal);
      }
    Eigen::SparseMatrix<double> a(n * n, n * n);
    a.setFromTriplets(entries.begin(), entries.end());
    return a;
  }
  Eigen::VectorXd rhs() const {
    return Eigen::Map<const Eigen::VectorXd>(b.data(), static_cast<Eigen::Index>(b.size()));
  }

  Grid grid;
  PressureEquation equation;
  Array2 b, x;
};

/// Set-up and solve to ten orders, as a first solve pays them.
void multigrid(benchmark::State& state) {
  const int n = static_cast<int>(state.range(0));
  Pressure p(n);
  int cycles = 0;
  for (auto _ : state) {
    state.SetIterationTime(timed("multigrid/" + std::to_string(n), [&] {
      p.x.fill(0.0);
      Multigrid solver(p.grid, p.equation);
      cycles = solver.solve(p.b, &p.x).cycles;
    }));
  }
  state.counters["cycles"] = cycles;
  state.counters["ns_per_cell"] = 1e9 * tuft::bench::best_times()["multigrid/" + std::to_string(n)] / n / n;
}
BENCHMARK(multigrid)->RangeMultiplier(2)->Range(64, 2048)->MinTime(2.0)->UseManualTime()->Unit(
    benchmark::kMillisecond);

void simplicial_ldlt(benchmark::State& state) {
  const int n = static_cast<int>(state.range(0));
  const Pressure p(n);
  const auto a = p.matrix();
  const Eigen::VectorXd b = p.rhs();
  for (auto _ : state)
    state.SetIterationTime(timed("ldlt/" + std::to_string(n), [&] {
      Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(a);
      benchmark::DoNotOptimize(solver.solve(b).eval().norm());
    }));
}
BENCHMARK(simplicial_ldlt)->Arg(512)->UseManualTime()->Iterations(2)->Unit(benchmark::kMillisecond);

void cg_incomplete_cholesky(benchmark::State& state) {
  const int n = static_cast<int>(state.range(0));
  const Pressure p(n);
  const auto a = p.matrix();
  const Eigen::VectorXd b = p.rhs();
  for (auto _ : state)
    state.SetIterationTime(timed("cg/" + std::to_string(n), [&] {
      Eigen::ConjugateGradient<Eigen::SparseMatrix<double>, Eigen::Lower | Eigen::Upper,
                               Eigen::IncompleteCholesky<double>>
          solver;
      solver.setTolerance(1e-10);
      solver.compute(a);
      benchmark::DoNotOptimize(solver.solve(b).eval().norm());
    }));
}
BENCHMARK(cg_incomplete_cholesky)->Arg(512)->UseManualTime()->Iterations(2)->Unit(benchmark::kMillisecond);

/// One sweep on a grid far larger than the caches. Counted: solution read and written, right-hand side read,
/// each once: 24 bytes a cell (the coefficients of a uniform grid are a few rows).
void smoother(benchmark::State& state) {
  const int n = static_cast<int>(state.range(0));
  Pressure p(n);
  Multigrid solver(p.grid, p.equation);
  solver.smooth_once();
  for (auto _ : state) state.SetIterationTime(timed("smoother", [&] { solver.smooth_once(); }));
  state.SetBytesProcessed(state.iterations() * 24LL * n * n);
}
BENCHMARK(smoother)->Arg(2048)->UseManualTime()->Unit(benchmark::kMillisecond);

/// a = b + s c, 24 bytes an entry (the write's own read is not counted, as is usual).
void triad(benchmark::State& state) {
  const auto n = static_cast<std::ptrdiff_t>(state.range(0)) * state.range(0);
  std::vector<double> a(static_cast<std::size_t>(n), 0.0), b(a.size(), 1.0), c(a.size(), 2.0);
  for (auto _ : state) {
    state.SetIterationTime(timed("triad", [&] {
#pragma omp parallel for schedule(static)
      for (std::ptrdiff_t k = 0; k < n; ++k)
        a[static_cast<std::size_t>(k)] =
            b[static_cast<std::size_t>(k)] + 3.0 * c[static_cast<std::size_t>(k)];
    }));
    benchmark::DoNotOptimize(a.data());
  }
  state.SetBytesProcessed(state.iterations() * 24LL * n);
}
BENCHMARK(triad)->Arg(2048)->UseManualTime()->Unit(benchmark::kMillisecond);

}  // namespace
