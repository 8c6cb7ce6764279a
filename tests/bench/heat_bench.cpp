// One coupled solve of the demo's conditions with heat paths and controls, beside the isothermal flow alone.
#include <benchmark/benchmark.h>

#include <chrono>
#include <cstdio>
#include <map>
#include <stdexcept>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "solver/network/branches.hpp"
#include "solver/network/controls.hpp"

using namespace tuft;

namespace {

using Clock = std::chrono::steady_clock;

const geometry::Case& demo() {
  static const geometry::Case content = [] {
    const auto read = casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml");
    if (!read.errors.empty()) throw std::runtime_error("the demo case does not read");
    return read.file.content;
  }();
  return content;
}

// Seconds a solve took on average in each condition, for the ratios at the end.
std::map<int, double>& isothermal_times() {
  static std::map<int, double> times;
  return times;
}
std::map<int, double>& coupled_times() {
  static std::map<int, double> times;
  return times;
}

const geometry::Condition& condition_of(const benchmark::State& state) {
  return demo().conditions[static_cast<std::size_t>(state.range(0))];
}

// The flow alone at room temperature, from rest, solver and buffers made each time as in the coupled one.
void isothermal(benchmark::State& state) {
  const network::Network net = network::assemble(demo(), condition_of(state));
  network::Options options;
  options.frozen_temperature = true;
  double total = 0.0;
  for (auto _ : state) {
    const auto start = Clock::now();
    network::Solver solver(net.graph);
    if (!solver.solve(options).converged()) state.SkipWithError("not converged");
    const double seconds = std::chrono::duration<double>(Clock::now() - start).count();
    state.SetIterationTime(seconds);
    total += seconds;
  }
  state.SetLabel(condition_of(state).name);
  isothermal_times()[static_cast<int>(state.range(0))] = total / static_cast<double>(state.iterations());
}

// Everything: heat paths, followed fans, limits. The network is copied outside the clock, as limits change
// it.
void coupled(benchmark::State& state) {
  const geometry::Condition& condition = condition_of(state);
  network::Network made = network::assemble(demo(), condition);
  const network::HeatLayout layout = network::add_heat_paths(demo(), condition, made);
  double total = 0.0;
  int steps = 0;
  for (auto _ : state) {
    network::Network net = made;
    const auto start = Clock::now();
    const network::Steady steady = network::solve_steady(demo(), layout, net);
    const double seconds = std::chrono::duration<double>(Clock::now() - start).count();
    if (!steady.summary.converged()) state.SkipWithError("not converged");
    steps = steady.summary.iterations;
    state.SetIterationTime(seconds);
    total += seconds;
  }
  state.SetLabel(condition.name);
  state.counters["steps"] = steps;
  coupled_times()[static_cast<int>(state.range(0))] = total / static_cast<double>(state.iterations());
}

// All steady states from the starts alone, as `tuft predict` looks for them.
void all_states(benchmark::State& state) {
  int solves = 0;
  for (auto _ : state) solves = network::find_branches(demo(), condition_of(state)).solves;
  state.SetLabel(condition_of(state).name);
  state.counters["solves"] = solves;
}

void print_ratios() {
  std::printf("\ncoupled with controls over isothermal:\n");
  for (const auto& [index, seconds] : coupled_times()) {
    const auto cold = isothermal_times().find(index);
    if (cold == isothermal_times().end()) continue;
    std::printf("  %-14s %6.2f  (%.0f us over %.0f us)\n",
                demo().conditions[static_cast<std::size_t>(index)].name.c_str(), seconds / cold->second,
                1e6 * seconds, 1e6 * cold->second);
  }
}

}  // namespace

int main(int argc, char** argv) {
  for (int i = 0; i < static_cast<int>(demo().conditions.size()); ++i) {
    benchmark::RegisterBenchmark("isothermal", isothermal)
        ->Arg(i)
        ->UseManualTime()
        ->Unit(benchmark::kMicrosecond);
    benchmark::RegisterBenchmark("coupled", coupled)->Arg(i)->UseManualTime()->Unit(benchmark::kMicrosecond);
    benchmark::RegisterBenchmark("all_states", all_states)->Arg(i)->Unit(benchmark::kMillisecond);
  }
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  print_ratios();
  return 0;
}
