// Samples of the demo in six conditions, beside one solve of the same conditions from cold.
#include <benchmark/benchmark.h>
#include <omp.h>

#include <chrono>
#include <cstdio>
#include <ctime>
#include <stdexcept>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "solver/network/controls.hpp"
#include "solver/study/sampler.hpp"
#include "solver/uncertainty/probability.hpp"

using namespace tuft;

namespace {

const geometry::Case& demo() {
  static const geometry::Case content = [] {
    const auto read = casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml");
    if (!read.errors.empty()) throw std::runtime_error("the demo case does not read");
    return read.file.content;
  }();
  return content;
}

const std::vector<int>& six() {
  static const std::vector<int> conditions = [] {
    std::vector<int> found;
    for (const char* name : {"use", "use-idle", "on-bed", "on-cushion", "lid-closed", "bench"})
      for (std::size_t i = 0; i < demo().conditions.size(); ++i)
        if (demo().conditions[i].name == name) found.push_back(static_cast<int>(i));
    return found;
  }();
  return conditions;
}

const study::Sampler& sampler() {
  static const study::Sampler made(demo(), six());
  return made;
}

struct Times {
  double wall = 0.0, processor = 0.0;
};

double processor_seconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

Times& of_single() {
  static Times times;
  return times;
}
Times& of_threads(int threads) {
  static Times times[3];
  return times[threads];
}

// The six conditions once from cold, assembly included.
void single(benchmark::State& state) {
  Times spent;
  for (auto _ : state) {
    const auto start = std::chrono::steady_clock::now();
    const double before = processor_seconds();
    for (const int condition : six()) {
      const geometry::Condition& wanted = demo().conditions[static_cast<std::size_t>(condition)];
      network::Network net = network::assemble(demo(), wanted);
      const network::HeatLayout layout = network::add_heat_paths(demo(), wanted, net);
      if (!network::solve_steady(demo(), layout, net).summary.converged())
        state.SkipWithError("not converged");
    }
    spent.processor += processor_seconds() - before;
    spent.wall += std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  }
  const auto n = static_cast<double>(state.iterations());
  of_single() = {spent.wall / n, spent.processor / n};
  state.counters["samples/s"] = benchmark::Counter(n, benchmark::Counter::kIsRate);
}

void samples(benchmark::State& state) {
  const int threads = static_cast<int>(state.range(0));
  constexpr int kSamples = 1000;
  const uncertainty::SampleMatrix points =
      uncertainty::Replicates(static_cast<int>(sampler().inputs().size()), 8, 1).points(0, kSamples);
  omp_set_num_threads(threads);
  Times spent;
  for (auto _ : state) {
    const auto start = std::chrono::steady_clock::now();
    const double before = processor_seconds();
    benchmark::DoNotOptimize(sampler().run(points).weights.data());
    spent.processor += processor_seconds() - before;
    spent.wall += std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  }
  const double n = kSamples * static_cast<double>(state.iterations());
  of_threads(threads) = {spent.wall / n, spent.processor / n};
  state.counters["samples/s"] = benchmark::Counter(n, benchmark::Counter::kIsRate);
  state.counters["us/sample"] = 1e6 * spent.processor / n;
}

}  // namespace

BENCHMARK(single)->UseRealTime();
BENCHMARK(samples)->Arg(1)->Arg(2)->UseRealTime()->Unit(benchmark::kMillisecond);

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  const Times one = of_threads(1), two = of_threads(2);
  std::printf("processor time: a sample %.0f us, one cold solve of the same %.0f us, ratio %.2f\n",
              1e6 * one.processor, 1e6 * of_single().processor, one.processor / of_single().processor);
  std::printf("10,000 samples: %.1f s of processor time, %.1f s on two threads by the clock\n",
              1e4 * one.processor, 1e4 * two.wall);
  std::printf("two threads: efficiency %.0f %% by the clock, processor time grows by %.0f %%\n",
              50.0 * one.wall / two.wall, 100.0 * (two.processor / one.processor - 1.0));
  return 0;
}
