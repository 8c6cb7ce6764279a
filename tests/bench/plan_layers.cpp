// Plan layers of the demo, cold, at three cell sizes: wall and processor time, and what they were spent on.
#include <benchmark/benchmark.h>

#include <string>

#include "geometry/casefile/case_file.hpp"
#include "solver/flow2d/layer_solve.hpp"
#include "solver/numerics/keep_memory.hpp"

using namespace tuft;

namespace {

const geometry::Case& demo() {
  static const geometry::Case content =
      casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml").file.content;
  return content;
}

/// The load's watts: seven tenths into the fins, the rest into the zones.
flow2d::LayerBoundaryData heat(const geometry::Case& c) {
  double power = 0.0;
  for (const geometry::SourcePower& p : c.loads[static_cast<std::size_t>(c.conditions[0].load)].powers)
    power += *p.power;
  flow2d::LayerBoundaryData given;
  const std::size_t fins = c.device.fin_stacks.size(), zones = c.device.zones.size();
  given.fin_stacks.assign(fins, 0.7 * power / static_cast<double>(fins));
  given.zones.assign(zones, 0.3 * power / static_cast<double>(zones));
  return given;
}

/// Argument: cell size in millimetres.
void solve_demo(benchmark::State& state) {
  const geometry::Case& c = demo();
  const flow2d::LayerBoundaryData given = heat(c);
  int steps = 0, factorisations = 0, iterations = 0;
  bool converged = true;
  for (auto _ : state) {
    flow2d::PlanOptions options;
    options.cell = 1e-3 * static_cast<double>(state.range(0));
    steps = factorisations = iterations = 0;
    options.newton.observer = [&](const flow2d::Progress& p) {
      ++steps;
      factorisations += p.factored ? 1 : 0;
      iterations += p.linear_iterations;
    };
    const flow2d::PlanResult result = flow2d::solve_plan(c, c.conditions[0], given, options);
    converged = converged && result.converged();
    benchmark::DoNotOptimize(result.through_flow);
  }
  if (!converged) state.SkipWithError("not converged");
  state.counters["steps"] = steps;
  state.counters["factorisations"] = factorisations;
  state.counters["iterations"] = iterations;
}

BENCHMARK(solve_demo)
    ->Arg(4)
    ->Arg(2)
    ->Arg(1)
    ->Iterations(1)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

}  // namespace

int main(int argc, char** argv) {
  tuft::numerics::keep_freed_memory();  // as the program does
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
