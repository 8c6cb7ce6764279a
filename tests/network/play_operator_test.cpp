// The play of a fan's table, and the relay of a source's limit.
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "solver/network/fan_speed.hpp"
#include "tests/network/transient_support.hpp"

using namespace tuft;
using namespace tuft::testing;
using network::Ending;
using network::EventKind;

namespace {

const numerics::Ramp kTable({310.0, 330.0, 350.0}, {20.0, 20.0, 60.0});
constexpr double kNever = std::numeric_limits<double>::infinity();

// One lump of 40 J/K, 10 W, 0.2 W/K to the room at 300 K: it would reach 350 K; time constant 200 s.
network::Setup limited(double throttles_at, double least, double shuts_down_at) {
  network::Setup setup = lumps({40.0}, {10.0});
  join(setup, 0, network::kOutside, 0.2);
  setup.load_inputs.source_power = {10.0};
  setup.sources = {{"chip", 0, throttles_at, least, shuts_down_at}};
  return setup;
}

network::Change asks(const network::Setup& setup, double time, double power) {
  network::Change change;
  change.time = time;
  change.text = "asked for another power";
  change.load_inputs = setup.load_inputs;
  change.load_inputs->body_power[0] = change.load_inputs->source_power[0] = power;
  return change;
}

// When the lump of `limited` reaches a rise over the room, from another rise, on its way to the end of
// `power`.
double time_to(double rise, double from, double power) {
  const double end = power / 0.2;
  return 200.0 * std::log((end - from) / (end - rise));
}

}  // namespace

TEST_CASE("a speed stays between the branches of its play", "[transient]") {
  const network::PlayOperator play_operator(kTable, 4.0);
  CHECK(play_operator.least(340.0) == Approx(40.0));
  CHECK(play_operator.most(340.0) == Approx(48.0));
  CHECK(play_operator.clamped(0.0, 340.0) == Approx(40.0));
  CHECK(play_operator.clamped(45.0, 340.0) == Approx(45.0));
  CHECK(play_operator.clamped(90.0, 340.0) == Approx(48.0));
  for (double speed : {20.0, 30.0, 45.0, 59.0}) {
    INFO(speed);
    CHECK(play_operator.least(play_operator.goes_up_at(speed)) == Approx(speed));
    CHECK(play_operator.most(play_operator.goes_down_at(speed)) == Approx(speed));
    CHECK(play_operator.rising().at(333.0).value == play_operator.least(333.0));
    CHECK(play_operator.falling().at(333.0).value == Approx(play_operator.most(333.0)));
  }
  // On the flat part the speed leaves it at its warm end going up; nothing lies below the least speed.
  CHECK(play_operator.goes_up_at(20.0) == Approx(330.0));
  CHECK(play_operator.goes_down_at(20.0) == -kNever);
  CHECK(play_operator.goes_down_at(60.0) == Approx(346.0));
  CHECK(play_operator.goes_up_at(60.0) == kNever);
}

TEST_CASE("tables that fall and negative plays are refused", "[transient]") {
  CHECK_THROWS_WITH(network::PlayOperator(numerics::Ramp({300.0, 310.0}, {5.0, 4.0}), 1.0),
                    Catch::Contains("must not fall"));
  CHECK_THROWS_WITH(network::PlayOperator(kTable, -1.0), Catch::Contains("hysteresis"));
  CHECK_THROWS_AS(network::PlayOperator(numerics::Ramp{}, 1.0), std::invalid_argument);
}

TEST_CASE("energy balances through a throttle and its release", "[transient]") {
  network::Setup setup = limited(330.0, 1.0, 0.0);
  setup.changes = {asks(setup, 600.0, 5.0)};  // 5 W lead to 325 K: below the limit
  const network::TransientResult transient = network::run_transient(setup);
  INFO(told(transient));
  REQUIRE(transient.ending == Ending::steady);
  REQUIRE(transient.events.size() == 2);
  CHECK(transient.events[0].kind == EventKind::throttled);
  CHECK(transient.events[0].subject == "chip");
  const double reached = time_to(30.0, 0.0, 10.0);
  CHECK(transient.events[0].time == Approx(reached).epsilon(1e-5));
  CHECK(transient.events[1].kind == EventKind::change);

  // Held, it takes what leaves: 0.2 W/K times 30 K.
  const auto& history = transient.history;
  const auto& power = track(history.power, "chip");
  CHECK(value_at(history, power, 0.5 * (reached + 600.0)) == Approx(6.0).epsilon(1e-12));
  CHECK(power.back() == Approx(5.0));
  for (double temperature : history.temperature[0].values) CHECK(temperature <= 330.0);

  // By hand: 10 W until then, 6 W until 600 s, 5 W to the end; what is stored is 40 J/K times the last rise.
  const double end = history.time.back();
  const double given = 10.0 * reached + 6.0 * (600.0 - reached) + 5.0 * (end - 600.0);
  const double stored = 40.0 * (history.temperature[0].values.back() - 300.0);
  CHECK(transient.energy_balance.given == Approx(given).epsilon(1e-6));
  CHECK(transient.energy_balance.stored == Approx(stored).epsilon(1e-12));
  CHECK(transient.energy_balance.left == Approx(given - stored).epsilon(1e-6));
  CHECK(transient.energy_balance.error < 1e-9);
}

TEST_CASE("a held source is let go when it could take more than it is asked to", "[transient]") {
  // The room's share of a second lump cools the first one: its heat goes on into the cold lump, and when that
  // is warm the power falls; when the load of the warm lump is taken away, it rises until full.
  network::Setup setup = lumps({10.0, 400.0}, {9.0, 20.0});
  join(setup, 0, 1, 0.3);
  join(setup, 1, network::kOutside, 0.5);
  setup.load_inputs.source_power = {9.0, 20.0};
  setup.sources = {{"chip", 0, 350.0, 0.5, 0.0}, {"heater", 1, 0.0, 0.0, 0.0}};
  network::Change off;
  off.time = 4000.0;
  off.text = "heater off";
  off.load_inputs = setup.load_inputs;
  off.load_inputs->body_power[1] = off.load_inputs->source_power[1] = 0.0;
  setup.changes = {off};
  const network::TransientResult transient = network::run_transient(setup);
  INFO(told(transient));
  REQUIRE(transient.ending == Ending::steady);
  REQUIRE(transient.events.size() == 3);
  CHECK(transient.events[0].kind == EventKind::throttled);
  CHECK(transient.events[2].kind == EventKind::full_power);
  CHECK(transient.events[2].time > 4000.0);
  CHECK(track(transient.history.power, "chip").back() == Approx(9.0));
  for (double power : track(transient.history.power, "chip")) {
    CHECK(power <= 9.0 + 1e-6);
    CHECK(power >= 0.5 - 1e-6);
  }
  CHECK(transient.energy_balance.error < 1e-9);
}

TEST_CASE("least power that is too much lets a source get hotter until it shuts down", "[transient]") {
  // Throttles at 330 K; 8 W lead to 340 K, beyond the shutdown at 335 K.
  const network::TransientResult transient = network::run_transient(limited(330.0, 8.0, 335.0));
  INFO(told(transient));
  REQUIRE(transient.ending == Ending::steady);
  REQUIRE(transient.events.size() == 3);
  CHECK(transient.events[0].kind == EventKind::throttled);
  CHECK(transient.events[1].kind == EventKind::at_least_power);
  CHECK(transient.events[1].time == transient.events[0].time);
  CHECK(transient.events[2].kind == EventKind::shut_down);
  const double reached = time_to(30.0, 0.0, 10.0);
  CHECK(transient.events[2].time == Approx(reached + time_to(35.0, 30.0, 8.0)).epsilon(1e-5));
  CHECK(transient.history.power[0].values.back() == 0.0);
  CHECK(transient.history.temperature[0].values.back() == Approx(300.0).margin(1e-4));
  CHECK(transient.energy_balance.error < 1e-9);
}

TEST_CASE("a source that starts too hot waits at its least power", "[transient]") {
  network::Setup setup = limited(330.0, 2.0, 0.0);
  setup.start[0] = 345.0;
  const network::TransientResult transient = network::run_transient(setup);
  INFO(told(transient));
  REQUIRE(transient.ending == Ending::steady);
  REQUIRE(transient.events.size() == 1);
  CHECK(transient.events[0].kind == EventKind::throttled);
  CHECK(transient.events[0].time == Approx(time_to(30.0, 45.0, 2.0)).epsilon(1e-5));
  CHECK(transient.history.power[0].values.front() == 2.0);
  CHECK(transient.history.power[0].values.back() == Approx(6.0));
}
