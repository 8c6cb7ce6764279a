// Whole steady solves from cold, and the ratios of the run.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>

#include "solver/flow2d/residual.hpp"
#include "solver/numerics/keep_memory.hpp"
#include "tests/bench/field_clock.hpp"
#include "tests/flow2d/field_support.hpp"

namespace {

using namespace tuft::flow2d;

void solve(benchmark::State& state, const std::string& name, const Problem& problem) {
  for (auto _ : state) {
    bool converged = false;
    state.SetIterationTime(
        tuft::experiment::timed(name, [&] { converged = test::solved(problem).found.steady(); }));
    if (!converged) state.SkipWithError("not converged");
  }
}

void heated_cavity(benchmark::State& state) {
  solve(state, "cavity/" + std::to_string(state.range(0)),
        test::heated_cavity(static_cast<int>(state.range(0)), 1e6));
}
BENCHMARK(heated_cavity)->Arg(64)->Arg(128)->Arg(256)->UseManualTime()->Unit(benchmark::kMillisecond);

/// The unit that the work of a solve is counted in.
void residual_evaluation(benchmark::State& state) {
  const Problem problem = test::heated_cavity(static_cast<int>(state.range(0)), 1e6);
  Residual residual(problem);
  const State at = still_state(problem);
  State out = at;
  constexpr int many = 20;  // one alone is short beside the clock's ticks
  for (auto _ : state)
    state.SetIterationTime(tuft::experiment::timed("residual",
                                                   [&] {
                                                     for (int k = 0; k < many; ++k)
                                                       residual.evaluate(at, &out);
                                                   }) /
                           many);
}
BENCHMARK(residual_evaluation)->Arg(128)->UseManualTime()->Unit(benchmark::kMicrosecond);

void lid_cavity(benchmark::State& state) {
  solve(state, "lid/" + std::to_string(state.range(0)),
        test::lid_cavity(static_cast<int>(state.range(0)), 1000));
}
BENCHMARK(lid_cavity)->Arg(64)->Arg(128)->UseManualTime()->Unit(benchmark::kMillisecond);

void print_ratios() {
  const auto& t = tuft::experiment::best_times();
  const auto time = [&](const std::string& name) { return t.count(name) ? t.at(name) : 0.0; };
  const auto ratio = [&](const char* label, double value, const char* target) {
    if (value > 0.0) std::printf("%-58s %8.2f   (aim: %s)\n", label, value, target);
  };
  std::printf("\nShortest times of this run, compared:\n");
  ratio("side-heated cavity, Ra 1e6, 128 x 128, from cold [s]", time("cavity/128"), "< 3");
  const double residual = time("residual") / 20.0;
  ratio("the same in evaluations of the residual", residual > 0 ? time("cavity/128") / residual : 0, "none");
}

}  // namespace

int main(int argc, char** argv) {
  tuft::numerics::keep_freed_memory();  // as the program does
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  print_ratios();
  return 0;
}
