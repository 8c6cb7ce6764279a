// One coupled solve of the demo's conditions, and the same residual solved by KINSOL beside it.
#include <benchmark/benchmark.h>

#include <map>
#include <stdexcept>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "solver/network/assemble.hpp"
#include "solver/network/heat_paths.hpp"
#include "solver/network/solve.hpp"
#include "solver/study/predict.hpp"
#include "tests/bench/kinsol_network.hpp"

using namespace tuft;

namespace {

geometry::Case case_called(const std::string& name) {
  const auto read = casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/" + name + ".yaml");
  if (!read.errors.empty()) throw std::runtime_error("the case " + name + " does not read");
  return read.file.content;
}

const geometry::Case& demo() {
  static const geometry::Case content = case_called("slim-notebook");
  return content;
}

network::Network demo_network(int condition) {
  return network::assemble(demo(), demo().conditions[static_cast<std::size_t>(condition)]);
}

// The start both solvers get: flows settled at ambient temperature, fans on, heat about to come.
network::State cold_start(const network::Graph& graph) {
  network::Solver solver(graph);
  network::Options options;
  options.frozen_temperature = true;
  if (!solver.solve(options).converged()) throw std::runtime_error("no cold start");
  return solver.state();
}

void label(benchmark::State& state, int condition, long iterations) {
  state.SetLabel(demo().conditions[static_cast<std::size_t>(condition)].name);
  state.counters["iterations"] = static_cast<double>(iterations);
}

void from_rest(benchmark::State& state) {
  const int condition = static_cast<int>(state.range(0));
  const network::Network net = demo_network(condition);
  network::Solver solver(net.graph);
  network::Summary summary;
  for (auto _ : state) {
    summary = solver.solve();
    if (!summary.converged()) state.SkipWithError("not converged");
  }
  label(state, condition, summary.iterations);
}

void from_cold_start(benchmark::State& state) {
  const int condition = static_cast<int>(state.range(0));
  const network::Network net = demo_network(condition);
  const network::State start = cold_start(net.graph);
  network::Solver solver(net.graph);
  network::Summary summary;
  for (auto _ : state) {
    summary = solver.solve_from(start);
    if (!summary.converged()) state.SkipWithError("not converged");
  }
  label(state, condition, summary.iterations);
}

// The same condition with each zone's air mixed, and in layers (N8): what the nodes and streams more cost.
void air_of_zones(benchmark::State& state, const char* name, network::ZoneAir air) {
  static std::map<std::string, geometry::Case> cases;
  const auto found = cases.find(name);
  const geometry::Case& content =
      found != cases.end() ? found->second : cases.emplace(name, case_called(name)).first->second;
  const geometry::Condition& condition = content.conditions[static_cast<std::size_t>(state.range(0))];
  network::Network net = network::assemble(content, condition, air);
  const network::HeatLayout layout = network::add_heat_paths(content, condition, net);
  benchmark::DoNotOptimize(layout);
  network::Solver solver(net.graph);
  network::Summary summary;
  for (auto _ : state) {
    summary = solver.solve();
    if (!summary.converged()) state.SkipWithError("not converged");
  }
  state.SetLabel(std::string(name) + " " + condition.name);
  state.counters["iterations"] = static_cast<double>(summary.iterations);
  state.counters["nodes"] = static_cast<double>(net.graph.nodes.size());
}

void kinsol(benchmark::State& state, experiment::Jacobian jacobian) {
  const int condition = static_cast<int>(state.range(0));
  const network::Network net = demo_network(condition);
  const network::State start = cold_start(net.graph);
  experiment::KinsolNetwork solver(net.graph, jacobian, network::Options{}.tolerance);
  for (auto _ : state)
    if (!solver.solve(start)) {
      state.SkipWithError("KINSOL did not converge");
      break;
    }
  label(state, condition, solver.iterations());
}

void assemble_and_predict(benchmark::State& state) {
  const int condition = static_cast<int>(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(study::predict(demo(), condition));
  label(state, condition, 0);
}

}  // namespace

BENCHMARK(from_rest)->DenseRange(0, 7)->Unit(benchmark::kMicrosecond);
BENCHMARK(from_cold_start)->DenseRange(0, 7)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(kinsol, differences, experiment::Jacobian::differences)
    ->DenseRange(0, 7)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(kinsol, analytic, experiment::Jacobian::analytic)
    ->DenseRange(0, 7)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(air_of_zones, demo_mixed, "slim-notebook", network::ZoneAir::mixed)
    ->DenseRange(0, 7)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(air_of_zones, demo_layered, "slim-notebook", network::ZoneAir::layered)
    ->DenseRange(0, 7)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(air_of_zones, open_box_mixed, "open-box", network::ZoneAir::mixed)
    ->DenseRange(0, 5)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(air_of_zones, open_box_layered, "open-box", network::ZoneAir::layered)
    ->DenseRange(0, 5)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK(assemble_and_predict)->DenseRange(0, 7)->Unit(benchmark::kMicrosecond);

BENCHMARK_MAIN();
