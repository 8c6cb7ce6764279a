// How long the page takes once everything is solved: results.json to text, and text to page.
#include <benchmark/benchmark.h>

#include <numeric>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"
#include "tools/io/run.hpp"
#include "tools/page/page.hpp"

namespace {

using namespace tuft;

io::Run demo() {
  const auto read = casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/slim-notebook.yaml");
  io::Run run;
  run.content = read.file.content;
  run.assumptions = read.file.assumptions;
  run.case_file = "slim-notebook.yaml";
  run.case_text = read.file.text;
  std::vector<int> every(run.content.conditions.size());
  std::iota(every.begin(), every.end(), 0);
  run.conditions = study::predict_these(run.content, every);
  for (std::size_t i = 0; i < run.content.sweeps.size(); ++i)
    run.sweeps.push_back(study::predict_sweep(run.content, static_cast<int>(i)));
  for (std::size_t i = 0; i < run.content.claims.size(); ++i)
    run.claims.push_back(study::judge(run.content, static_cast<int>(i), run.conditions));
  return run;
}

void results_to_text(benchmark::State& state) {
  const io::Run run = demo();
  for (auto _ : state) benchmark::DoNotOptimize(io::results_json(run, {{}, {"results.json"}, {}}));
}
BENCHMARK(results_to_text)->Unit(benchmark::kMillisecond);

void text_to_page(benchmark::State& state) {
  const std::string results = io::results_json(demo(), {{}, {"results.json"}, {}});
  std::size_t bytes = 0;
  for (auto _ : state) bytes = page::report_page(results, "").size();
  state.counters["bytes"] = static_cast<double>(bytes);
}
BENCHMARK(text_to_page)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
