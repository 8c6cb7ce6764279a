// Speed of a tell-tale's deflection, and of a whole bench report of the example notebook.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "solver/experiment/bench_report.hpp"

using namespace tuft;

namespace {

const geometry::Case& notebook() {
  static const geometry::Case content = [] {
    auto read = casefile::read_case(TUFT_SOURCE_DIR "/cases/slim-notebook.yaml");
    if (!read.errors.empty()) std::abort();
    return read.file.content;
  }();
  return content;
}

int condition(const std::string& name) {
  for (std::size_t c = 0; c < notebook().conditions.size(); ++c)
    if (notebook().conditions[c].name == name) return static_cast<int>(c);
  std::abort();
}

void even_air(benchmark::State& state, const std::string& name) {
  const experiment::NamedTellTale& cut = *experiment::find_tell_tale(name);
  for (auto _ : state) {
    for (const double speed : {0.05, 0.2, 1.0}) {
      const auto bent = physics::deflect_in_even_air(cut.body, {}, speed);
      if (!bent.converged) state.SkipWithError("no state of rest");
      benchmark::DoNotOptimize(bent.lean);
    }
  }
  state.SetItemsProcessed(3 * state.iterations());
}

void before_the_outlet(benchmark::State& state) {
  const auto result = study::predict(notebook(), condition("use"));
  const experiment::OutsideAir air(notebook(), result);
  const experiment::NamedTellTale& cut = *experiment::find_tell_tale("tissue-60");
  const geometry::Vent* outlet = nullptr;
  for (const auto& vent : notebook().device.vents)
    if (vent.name == "side-outlet") outlet = &vent;
  const auto place = experiment::place_before(*outlet, air.gravity(), 0.02, experiment::Part::middle);
  const auto hanging = experiment::hang(cut, outlet->face, air, place);
  for (auto _ : state) {
    const auto bent =
        physics::deflect(cut.body, hanging, [&](const experiment::Vec3& at) { return air.at(at).velocity; });
    benchmark::DoNotOptimize(bent.lean);
  }
}

void expected_reading_again(benchmark::State& state) {
  const auto result = study::predict(notebook(), condition("use"));
  experiment::Probe probe;
  for (std::size_t v = 0; v < notebook().device.vents.size(); ++v)
    if (notebook().device.vents[v].name == "side-outlet") probe.vent = static_cast<int>(v);
  const experiment::ReadingModel model(notebook(), condition("use"), probe);
  for (auto _ : state) benchmark::DoNotOptimize(model.expect(notebook(), result).out);
}

void whole_report(benchmark::State& state) {
  experiment::Question question;
  question.bench = condition("bench");
  question.use = condition("use-idle");
  for (auto _ : state) {
    std::optional<experiment::Unsolved> unsolved;
    const experiment::Report report = experiment::judge_bench(notebook(), question, unsolved);
    benchmark::DoNotOptimize(report.common.score);
  }
}

BENCHMARK_CAPTURE(even_air, tissue, std::string("tissue-60"))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(even_air, paper, std::string("paper-150"))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(even_air, wool, std::string("wool-150"))->Unit(benchmark::kMicrosecond);
BENCHMARK(before_the_outlet)->Unit(benchmark::kMicrosecond);
BENCHMARK(expected_reading_again)->Unit(benchmark::kMicrosecond);
BENCHMARK(whole_report)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

}  // namespace

BENCHMARK_MAIN();
