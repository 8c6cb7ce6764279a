// The heat chassis in time: its end, its energy, what goes wrong with it.
#include <algorithm>
#include <catch2/catch.hpp>

#include "solver/network/transient_system.hpp"
#include "tests/network/chassis.hpp"
#include "tests/network/heat_chassis.hpp"
#include "tests/network/transient_support.hpp"
#include "tests/support/chassis.hpp"

using namespace tuft;
using namespace tuft::testing;
using network::Ending;
using network::EventKind;
using network::ScheduledEvent;

namespace {

network::WarmUp warmed(const geometry::Case& content, const std::vector<ScheduledEvent>& events = {}) {
  network::Plan plan;
  plan.events = events;
  return network::warm_up(content, plan);
}

// The chassis flat on a table with one of its loads.
geometry::Case on_table(int load) {
  geometry::Case content = heat_chassis();
  add_condition(content, "flat", 1, load);
  return content;
}

// Its fan follows the pipe, with play.
geometry::Case following() {
  geometry::Case content = heat_chassis();
  geometry::Fan& fan = content.device.fans[0];
  fan.speed_control.given = true;
  fan.speed_control.sensor = {geometry::PlaceKind::part, kPipe};
  fan.speed_control.temperature = {300.0, 310.0, 330.0};
  fan.speed_control.speed = {15.0, 30.0, 75.0};
  fan.speed_control.hysteresis = 3.0;
  for (geometry::Load& load : content.loads) load.fans.clear();
  return content;
}

geometry::Load asking(const std::string& name, double power) {
  geometry::Load load;
  load.name = name;
  load.powers = {{kProcessor, 0.6 * power}, {kGraphics, 0.4 * power}};
  return load;
}

double least(const std::vector<network::Track>& tracks) {
  double value = 1e9;
  for (const network::Track& each : tracks)
    value = std::min(value, *std::min_element(each.values.begin(), each.values.end()));
  return value;
}

}  // namespace

TEST_CASE("a warm-up ends in the steady state of a solve", "[transient]") {
  for (int load : {0, 1, 2}) {
    const geometry::Case content = on_table(load);
    const network::WarmUp run = warmed(content);
    INFO(content.conditions.back().name << "\n"
                                        << told(run.transient) << "\ndistance " << run.transient.distance);
    REQUIRE(run.transient.ending == Ending::steady);
    REQUIRE(run.steady.solved);
    CHECK(run.steady.difference < 1e-4);
    CHECK(run.transient.growth < 0.0);
    CHECK(run.transient.energy_balance.error < 1e-9);

    // The same from a solve that knows nothing of time.
    HeatedNetwork made = heated_network(content, 0);
    const network::Steady steady = network::solve_steady(content, made.layout, made.net);
    REQUIRE(steady.summary.converged());
    for (Eigen::Index i = 0; i < steady.state.temperature.size(); ++i)
      CHECK(run.transient.history.temperature[static_cast<std::size_t>(i)].values.back() ==
            Approx(steady.state.temperature[i]).margin(1e-4));

    // It soaks for as long as the last of its parts.
    REQUIRE(run.settling.known);
    const auto& times = run.settling.of_temperature;
    CHECK(run.settling.overall == std::max(run.settling.flow, *std::max_element(times.begin(), times.end())));
    CHECK(run.settling.overall > 300.0);
    CHECK(least(run.transient.history.temperature) > run.ambient - 1e-5);  // a step errs by 1e-6 K
  }
}

TEST_CASE("the end of a warm-up that follows its fan's table is the steady state too", "[transient]") {
  geometry::Case content = following();
  add_condition(content, "flat", 1, 0);
  const network::WarmUp run = warmed(content);
  INFO(told(run.transient));
  REQUIRE(run.transient.ending == Ending::steady);
  REQUIRE(run.steady.solved);
  CHECK(run.steady.difference < 1e-4);
  CHECK(run.transient.energy_balance.error < 1e-9);
  REQUIRE(!run.transient.events.empty());
  CHECK(run.transient.events[0].kind == EventKind::speeds_up);
  const auto& speed = run.transient.history.fan_speed[static_cast<std::size_t>(run.fan[0])].values;
  CHECK(speed.front() == 15.0);
  CHECK(speed.back() > 16.0);
  const auto& pipe = run.transient.history.temperature[static_cast<std::size_t>(run.part[kPipe])].values;
  const numerics::Ramp table(content.device.fans[0].speed_control.temperature,
                             content.device.fans[0].speed_control.speed);
  for (std::size_t i = 0; i < pipe.size(); ++i) {
    CHECK(speed[i] >= table.at(pipe[i]).value - 1e-9);
    CHECK(speed[i] <= table.at(pipe[i] + 3.0).value + 1e-9);
  }
}

TEST_CASE("a start in the steady state stays there", "[transient]") {
  const geometry::Case content = on_table(0);
  network::Plan plan;
  plan.from = 0;
  const network::WarmUp run = network::warm_up(content, plan);
  INFO(told(run.transient));
  CHECK(run.transient.ending == Ending::steady);
  CHECK(run.transient.history.time.back() == 0.0);
  CHECK(run.settling.overall == 0.0);
  CHECK(run.steady.difference < 1e-6);
}

TEST_CASE("from one condition's steady state into another's", "[transient]") {
  geometry::Case content = on_table(0);
  add_condition(content, "flat", 2, 0);  // onto the cushion
  network::Plan plan;
  plan.condition = 1;
  plan.from = 0;
  const network::WarmUp run = network::warm_up(content, plan);
  INFO(told(run.transient));
  REQUIRE(run.transient.ending == Ending::steady);
  const auto& chip =
      run.transient.history.temperature[static_cast<std::size_t>(run.source[kProcessor])].values;
  CHECK(chip.front() > run.ambient + 10.0);
  CHECK(chip.back() > chip.front() + 1.0);
  CHECK(run.steady.difference < 1e-4);
}

TEST_CASE("a fan that fails: everything gets hotter, and what happens is named in order", "[transient]") {
  geometry::Case content = on_table(0);
  ScheduledEvent failing{ScheduledEvent::Kind::fan_fails, 3000.0, 0, true};
  const network::WarmUp run = warmed(content, {failing});
  const auto& events = run.transient.events;
  INFO(told(run.transient));
  REQUIRE(run.transient.ending == Ending::steady);
  REQUIRE(events.size() >= 3);
  CHECK(events[0].kind == EventKind::change);
  CHECK(events[0].text == "fan blower fails");
  CHECK(events[0].time == Approx(3000.0));
  CHECK(std::is_sorted(events.begin(), events.end(),
                       [](const auto& a, const auto& b) { return a.time < b.time; }));
  CHECK(std::any_of(events.begin(), events.end(),
                    [](const auto& e) { return e.kind == EventKind::throttled; }));
  const auto& history = run.transient.history;
  for (int part : {run.source[kProcessor], run.part[kPipe], run.skin[kPalmRest], run.zone[1]}) {
    const auto& values = history.temperature[static_cast<std::size_t>(part)].values;
    INFO(history.temperature[static_cast<std::size_t>(part)].name);
    CHECK(values.back() > value_at(history, values, 2999.0) + 1.0);
  }
  CHECK(history.fan_speed[0].values.back() == 0.0);
  CHECK(value_at(history, history.fan_speed[0].values, 2999.0) == 75.0);
  CHECK(run.settling.since == Approx(3000.0));
  CHECK(run.transient.energy_balance.error < 1e-9);
  CHECK(run.steady.difference < 1e-4);
}

TEST_CASE("a cool-down ends at room temperature", "[transient]") {
  for (bool fans_stop : {true, false}) {
    geometry::Case content = on_table(0);
    network::Plan plan;
    plan.from = 0;
    plan.events = {{ScheduledEvent::Kind::power_off, 60.0, 0, fans_stop}};
    plan.options.until = 20.0 * 3600.0;
    const network::WarmUp run = network::warm_up(content, plan);
    INFO(told(run.transient) << " fans stop " << fans_stop);
    REQUIRE(run.transient.ending == Ending::steady);
    for (const auto& track : run.transient.history.temperature)
      CHECK(track.values.back() == Approx(run.ambient).margin(2e-4));
    CHECK(run.transient.history.fan_speed[0].values.back() == (fans_stop ? 0.0 : 75.0));
    CHECK(least(run.transient.history.temperature) > run.ambient - 1e-4);
    // All that was stored has left.
    CHECK(run.transient.energy_balance.stored < 0.0);
    CHECK(run.transient.energy_balance.error < 1e-9);
  }
}

TEST_CASE("the loop of a fan with play closes", "[transient]") {
  geometry::Case content = following();
  content.loads.push_back(asking("low", 12.0));
  content.loads.push_back(asking("mid", 20.0));
  content.loads.push_back(asking("high", 28.0));
  const int low = static_cast<int>(content.loads.size()) - 3;
  add_condition(content, "flat", 1, low);
  network::Plan plan;
  const double hold = 10000.0;  // some ten time constants at each load
  double time = 0.0;
  for (int load : {low + 1, low + 2, low + 1, low, low + 1, low + 2, low + 1, low})
    plan.events.push_back({ScheduledEvent::Kind::load, time += hold, load, false});
  plan.options.until = 12.0 * hold;
  const network::WarmUp run = network::warm_up(content, plan);
  INFO(told(run.transient));
  REQUIRE(run.transient.ending == Ending::steady);
  const auto& history = run.transient.history;
  const auto at_end_of = [&](const std::vector<double>& values, int stage) {
    return value_at(history, values, (stage + 1) * hold - 1.0);
  };
  const auto& speed = history.fan_speed[0].values;
  const auto& pipe = history.temperature[static_cast<std::size_t>(run.part[kPipe])].values;

  // Stages: 0 low from cold, 1 mid, 2 high, 3 mid, 4 low, 5 mid, 6 high, 7 mid, 8 low. Going down the fan is
  // faster and the pipe cooler than going up.
  CHECK(at_end_of(speed, 3) > at_end_of(speed, 5) + 1.0);
  CHECK(at_end_of(pipe, 3) < at_end_of(pipe, 5) - 0.1);
  // The second loop ends where it began and repeats the first's way down.
  const auto last = static_cast<double>(speed.back());
  CHECK(last == Approx(at_end_of(speed, 4)).margin(2e-2));
  CHECK(pipe.back() == Approx(at_end_of(pipe, 4)).margin(5e-3));
  CHECK(at_end_of(speed, 7) == Approx(at_end_of(speed, 3)).margin(2e-2));
  CHECK(at_end_of(speed, 6) == Approx(at_end_of(speed, 2)).margin(2e-2));
  // Area in the plane of power and speed, by the corners: going up below, going down above.
  const double area = 0.5 * (28.0 - 12.0) * (at_end_of(speed, 7) - at_end_of(speed, 5));
  CHECK(area > 8.0);
  CHECK(run.transient.energy_balance.error < 1e-9);
}

TEST_CASE("the same plan gives the same bytes", "[transient]") {
  const geometry::Case content = on_table(0);
  const ScheduledEvent failing{ScheduledEvent::Kind::fan_fails, 500.0, 0, true};
  const network::WarmUp first = warmed(content, {failing});
  const network::WarmUp second = warmed(content, {failing});
  REQUIRE(first.transient.history.time == second.transient.history.time);
  for (std::size_t i = 0; i < first.transient.history.temperature.size(); ++i)
    CHECK(first.transient.history.temperature[i].values == second.transient.history.temperature[i].values);
  CHECK(told(first.transient) == told(second.transient));
}

TEST_CASE("the slope of the heat, the flow following, agrees with differences", "[transient]") {
  geometry::Case content = following();
  add_condition(content, "flat", 1, 0);
  const HeatedNetwork made = heated_network(content, 0);
  network::QuasiSteady heat(made.net.graph);
  Eigen::VectorXd temperature(heat.size());
  for (Eigen::Index i = 0; i < temperature.size(); ++i) temperature[i] = 305.0 + 1.7 * static_cast<double>(i);
  REQUIRE(heat.settle(temperature));
  heat.accept();
  const Eigen::MatrixXd slope = heat.heat_slope();
  const double scale = slope.cwiseAbs().maxCoeff();
  const double step = 1e-4;
  for (Eigen::Index j = 0; j < temperature.size(); ++j) {
    Eigen::VectorXd moved = temperature;
    moved[j] += step;
    REQUIRE(heat.settle(moved));
    const Eigen::VectorXd above = heat.heat();
    moved[j] -= 2.0 * step;
    REQUIRE(heat.settle(moved));
    const Eigen::VectorXd difference = (above - heat.heat()) / (2.0 * step);
    INFO("temperature " << j);
    CHECK((difference - slope.col(j)).cwiseAbs().maxCoeff() < 1e-6 * scale);
  }
}

TEST_CASE("what leaves and what is stored is what is given, at any temperatures", "[transient]") {
  geometry::Case content = on_table(0);
  const HeatedNetwork made = heated_network(content, 0);
  network::QuasiSteady heat(made.net.graph);
  Eigen::VectorXd temperature(heat.size());
  for (Eigen::Index i = 0; i < temperature.size(); ++i)
    temperature[i] = 300.0 + 3.0 * static_cast<double>(i % 7);
  REQUIRE(heat.settle(temperature));
  CHECK(heat.heat().sum() == Approx(heat.given() - heat.left()).epsilon(1e-9));
}

// A standing door alone is taken in strips because of the heat behind it: also when that is switched off.
TEST_CASE("a room behind a door is followed after its heater is switched off") {
  geometry::Case c = test::box({0.2, 0.2, 0.12});
  c.room.temperature = 293.15;
  c.device.zones[0].wall_conductance = 0.05;
  geometry::Vent door = test::vent("door", geometry::Face::right, {0.2, 0.1, 0.05}, 0.02, 0.1);
  door.cover.kind = geometry::CoverKind::open;
  door.cover.open_ratio = 1.0;
  c.device.vents = {door};
  geometry::Source heater;
  heater.name = "heater";
  heater.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  heater.is_placed = true;
  heater.centre = {0.1, 0.1, 0.0};
  c.device.sources = {heater};
  geometry::SourcePower power;
  power.source = 0;
  power.power = 2;
  c.loads[0].powers = {power};
  network::Plan plan;
  plan.condition = 0;
  network::ScheduledEvent off;
  off.kind = network::ScheduledEvent::Kind::power_off;
  off.time = 60.0;
  plan.events = {off};
  const network::WarmUp followed = network::warm_up(c, plan);
  INFO(followed.transient.message);
  CHECK(followed.transient.ending != network::Ending::failed);
  REQUIRE_FALSE(followed.zone.empty());
  CHECK(followed.transient.history.temperature[0].values.back() == Approx(293.15).margin(2.0));
}
