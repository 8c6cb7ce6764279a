// A thousand seconds of warm-up, and one coupled steady solve of the same network beside it.
#include <benchmark/benchmark.h>

#include <chrono>
#include <cstdio>
#include <map>
#include <stdexcept>
#include <string>

#include "solver/network/warm_up.hpp"
#include "tests/network/chassis.hpp"
#include "tests/network/heat_chassis.hpp"

using namespace tuft;

namespace {

// The heat chassis busy, slow and with a still fan; 3: busy with a fan that follows the pipe.
constexpr int kFollowing = 3;

geometry::Case prepared(int load) {
  geometry::Case content = testing::heat_chassis();
  if (load == kFollowing) {
    geometry::Fan& fan = content.device.fans[0];
    fan.speed_control.given = true;
    fan.speed_control.sensor = {geometry::PlaceKind::part, testing::kPipe};
    fan.speed_control.temperature = {300.0, 310.0, 330.0};
    fan.speed_control.speed = {15.0, 30.0, 75.0};
    fan.speed_control.hysteresis = 3.0;
    for (geometry::Load& each : content.loads) each.fans.clear();
    load = 0;
  }
  testing::add_condition(content, "flat", 1, load);
  return content;
}

// Seconds of the last run of each kind, for the ratio at the end.
std::map<std::string, double>& seconds() {
  static std::map<std::string, double> kept;
  return kept;
}

template <typename Function>
void timed(benchmark::State& state, const char* kind, const Function& function) {
  double total = 0.0;
  long runs = 0;
  for (auto _ : state) {
    const auto begin = std::chrono::steady_clock::now();
    function();
    total += std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    ++runs;
  }
  seconds()[kind + std::to_string(state.range(0))] = total / static_cast<double>(runs);
}

void thousand_seconds(benchmark::State& state) {
  const geometry::Case content = prepared(static_cast<int>(state.range(0)));
  network::Plan plan;
  plan.options.until = 1000.0;
  plan.options.steady_within = 0.0;
  network::WarmUp run;
  timed(state, "warm", [&] { run = network::warm_up(content, plan); });
  if (run.transient.ending != network::Ending::time_up) state.SkipWithError("did not run to its end");
  state.counters["steps"] = static_cast<double>(run.transient.history.time.size());
  state.counters["events"] = static_cast<double>(run.transient.events.size());
}

void steady_solve(benchmark::State& state) {
  const geometry::Case content = prepared(static_cast<int>(state.range(0)));
  const testing::HeatedNetwork made = testing::heated_network(content, 0);
  bool solved = true;
  timed(state, "steady", [&] {
    network::Network net = made.net;
    solved = network::solve_steady(content, made.layout, net).summary.converged();
  });
  if (!solved) state.SkipWithError("no steady state");
}

}  // namespace

BENCHMARK(thousand_seconds)->DenseRange(0, kFollowing)->Unit(benchmark::kMillisecond);
BENCHMARK(steady_solve)->DenseRange(0, kFollowing)->Unit(benchmark::kMicrosecond);

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  const char* names[] = {"busy", "slow", "still fan", "fan follows"};
  for (int load = 0; load <= kFollowing; ++load) {
    const double warm = seconds()["warm" + std::to_string(load)];
    const double steady = seconds()["steady" + std::to_string(load)];
    if (warm > 0.0 && steady > 0.0)
      std::printf("%-12s 1000 s of warm-up: %.1f ms, %.0f coupled steady solves of %.0f us\n", names[load],
                  1e3 * warm, warm / steady, 1e6 * steady);
  }
}
