// Controls closed: throttling, shutdown, fans that follow a sensor with hysteresis.
#include <catch2/catch.hpp>

#include "solver/network/audit.hpp"
#include "tests/network/chassis.hpp"
#include "tests/network/heat_chassis.hpp"

using namespace tuft;
using namespace tuft::testing;
using network::SourceState;

namespace {

struct Solved {
  HeatedNetwork made;
  network::Steady steady;
  double at(int temperature) const { return steady.state.temperature[temperature]; }
  double chip(int source) const { return at(made.layout.source[static_cast<std::size_t>(source)]); }
  double energy() const { return network::audit(made.net.graph, steady.state).energy; }
};

Solved solved(const geometry::Case& content, int condition,
              network::Approach approach = network::Approach::warming) {
  const geometry::Condition& wanted = content.conditions[static_cast<std::size_t>(condition)];
  Solved out;
  out.made.net = network::assemble(content, wanted);
  out.made.layout = network::add_heat_paths(content, wanted, out.made.net, approach);
  out.steady = network::solve_steady(content, out.made.layout, out.made.net);
  INFO(wanted.name);
  REQUIRE(out.steady.summary.converged());
  CHECK(out.energy() < 1e-8);
  return out;
}

void set_power(geometry::Case& content, int load, double processor, double graphics) {
  content.loads[static_cast<std::size_t>(load)].powers = {{kProcessor, processor}, {kGraphics, graphics}};
}

void follow_processor(geometry::Case& content, double hysteresis) {
  geometry::Fan& fan = content.device.fans[0];
  fan.speed_control.given = true;
  fan.speed_control.sensor = {geometry::PlaceKind::source, kProcessor};
  fan.speed_control.temperature = {313.15, 353.15};
  fan.speed_control.speed = {15.0, 75.0};
  fan.speed_control.hysteresis = hysteresis;
  for (geometry::Load& load : content.loads) load.fans.clear();
}

double speed_of(const Solved& run) {
  const network::FanElement& fan = run.made.net.graph.fans[0];
  return fan.speed_control.at(run.at(fan.sensor)).value;
}

}  // namespace

TEST_CASE("a chip above its limit is held there at the power its balance asks for", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 0, 0);
  set_power(content, 0, 90.0, 30.0);
  const Solved run = solved(content, flat);
  CHECK(run.steady.sources[kProcessor].state == SourceState::throttled);
  CHECK(run.chip(kProcessor) == Approx(363.15).epsilon(1e-9));
  CHECK(run.steady.sources[kProcessor].power < 90.0);
  CHECK(run.steady.sources[kGraphics].state == SourceState::full);
  CHECK(run.steady.sources[kGraphics].power == 30.0);

  // The same power asked for outright gives the same temperature without any throttling.
  const double held = run.steady.sources[kProcessor].power;
  set_power(content, 0, held * (1.0 - 1e-9), 30.0);
  const Solved free = solved(content, flat);
  CHECK(free.steady.sources[kProcessor].state == SourceState::full);
  CHECK(free.chip(kProcessor) == Approx(363.15).margin(1e-5));
}

TEST_CASE("energy balances through the onset of throttling, which leaves no step", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 0, 0);
  double last_power = 0.0, last_temperature = 0.0;
  bool throttled = false;
  for (double asked = 40.0; asked <= 100.0; asked += 2.0) {
    set_power(content, 0, asked, 20.0);
    const Solved run = solved(content, flat);
    const network::SourceOutcome& processor = run.steady.sources[kProcessor];
    INFO("asked for " << asked);
    CHECK(processor.power >= last_power - 1e-6);
    CHECK(processor.power <= asked);
    CHECK(run.chip(kProcessor) >= last_temperature - 1e-6);
    throttled = throttled || processor.state == SourceState::throttled;
    last_power = processor.power;
    last_temperature = run.chip(kProcessor);
  }
  CHECK(throttled);
}

TEST_CASE("a chip that stays too hot on its least power shuts down, and the reason is kept", "[heat]") {
  geometry::Case content = heat_chassis();
  const int stopped = add_condition(content, "flat", 1, 2);
  content.device.sources[kProcessor].limits.least_power = 55.0;
  set_power(content, 2, 60.0, 0.0);
  const Solved run = solved(content, stopped);
  CHECK(run.steady.sources[kProcessor].state == SourceState::shut_down);
  CHECK(run.steady.sources[kProcessor].power == 0.0);
  CHECK(run.chip(kProcessor) == Approx(run.made.net.graph.ambient.temperature).margin(1e-6));
}

TEST_CASE("a fan that follows a chip settles where table and balance meet", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 1, 0);
  follow_processor(content, 4.0);
  for (const double power : {5.0, 15.0, 25.0, 40.0, 60.0}) {
    set_power(content, 0, power, 0.3 * power);
    const Solved run = solved(content, flat);
    const double speed = speed_of(run);
    // At this fixed speed the chip has the same temperature.
    geometry::Case fixed = content;
    fixed.device.fans[0].speed_control.given = false;
    fixed.loads[0].fans = {{0, geometry::FanState::running, speed}};
    const Solved same = solved(fixed, flat);
    INFO(power << " W, " << speed << " rev/s");
    CHECK(same.chip(kProcessor) == Approx(run.chip(kProcessor)).margin(1e-6));
  }
}

TEST_CASE("the hysteresis loop of a fan closes at both ends and is open between", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 1, 0);
  follow_processor(content, 6.0);
  const auto at = [&](double power, network::Approach approach) {
    set_power(content, 0, power, 0.0);
    return speed_of(solved(content, flat, approach));
  };
  CHECK(at(0.5, network::Approach::warming) == at(0.5, network::Approach::cooling));
  CHECK(at(140.0, network::Approach::warming) == at(140.0, network::Approach::cooling));
  for (const double power : {15.0, 25.0, 35.0}) {
    INFO(power);
    CHECK(at(power, network::Approach::cooling) > at(power, network::Approach::warming) + 1.0);
  }
}

TEST_CASE("without power everything has the room's temperature", "[heat]") {
  geometry::Case content = heat_chassis();
  for (const std::string& pose : geometry::pose_words())
    for (int support = 0; support < 3; ++support) {
      const Solved run = solved(content, add_condition(content, pose, support, 3));
      const double room = run.made.net.graph.ambient.temperature;
      CHECK((run.steady.state.temperature.array() - room).abs().maxCoeff() < 1e-7);
    }
}

TEST_CASE("nothing is colder than the room, and every condition's books close", "[heat]") {
  geometry::Case content = heat_chassis();
  for (const std::string& pose : geometry::pose_words())
    for (int support = 0; support < 3; ++support)
      for (int load = 0; load < 4; ++load) {
        const Solved run = solved(content, add_condition(content, pose, support, load));
        CHECK(run.steady.state.temperature.minCoeff() > run.made.net.graph.ambient.temperature - 1e-7);
      }
}

TEST_CASE("chip temperatures shift nearly one for one with the room", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 1, 1);
  content.room.temperature = 290.15;
  const double cool = solved(content, flat).chip(kProcessor);
  content.room.temperature = 294.15;
  const double warm = solved(content, flat).chip(kProcessor);
  // Common practice, no source. Air and radiation both carry a little more heat from a warmer device.
  CHECK(warm - cool == Approx(4.0).margin(0.4));
}

TEST_CASE("air that comes back warms the intake by its share of the outlet's rise", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 0, 0);
  const Solved without = solved(content, flat);
  content.device.vents[kGrille].recirculates = {{kOutlet, 0.2}};
  const Solved with = solved(content, flat);
  // Books of the fan bay by hand: what the grille draws has T_room + r (T_out - T_room).
  const network::Network& net = with.made.net;
  network::Equations equations(net.graph);
  equations.evaluate(with.steady.state);
  const double room = net.graph.ambient.temperature;
  double heat = 0.0;
  for (int link = 0; link < equations.n_links(); ++link)
    if (equations.link(link).outlet.element >= 0) heat += equations.link(link).heat;
  const int opening = net.layout.vent_openings[kGrille][0];
  const double out = with.at(net.layout.vent_node[kOutlet]);
  CHECK(heat == Approx(equations.element(opening).backward * equations.heat_capacity() * 0.2 * (out - room))
                    .epsilon(1e-4));
  CHECK(with.chip(kProcessor) > without.chip(kProcessor) + 1.0);
}

TEST_CASE("no more air comes back than the outlet gives", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 0, 0);
  content.device.vents[kSpare].recirculates = {{kOutlet, 0.9}};
  content.device.vents[kGrille].recirculates = {{kOutlet, 0.9}};
  const Solved run = solved(content, flat);
  network::Equations equations(run.made.net.graph);
  equations.evaluate(run.steady.state);
  const network::Network& net = run.made.net;
  const double rise = run.at(net.layout.vent_node[kOutlet]) - net.graph.ambient.temperature;
  double back = 0.0;
  for (int link = 0; link < equations.n_links(); ++link)
    if (equations.link(link).outlet.element >= 0) back += equations.link(link).heat;
  const double given = equations.element(net.layout.vent_openings[kOutlet][0]).forward;
  CHECK(back <= equations.heat_capacity() * given * rise * (1.0 + 1e-12));
  CHECK(back > 0.5 * equations.heat_capacity() * given * rise);
}

TEST_CASE("a chip far beyond its limit is held there all the same", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 1, 2);
  content.device.sources[kProcessor].limits.least_power = 0.5;
  for (const double asked : {60.0, 400.0, 3000.0}) {
    set_power(content, 2, asked, 0.0);
    const Solved run = solved(content, flat);
    INFO(asked << " W");
    CHECK(run.steady.sources[kProcessor].state == SourceState::throttled);
    CHECK(run.chip(kProcessor) == Approx(363.15).epsilon(1e-9));
  }
}

TEST_CASE("which chip shuts down does not hang on the order of writing", "[heat]") {
  geometry::Case content = heat_chassis();
  const int stopped = add_condition(content, "flat", 1, 2);
  for (geometry::Source& source : content.device.sources) {
    source.limits.throttles_at = 0.0;
    source.limits.least_power = 0.0;
  }
  set_power(content, 2, 30.0, 20.0);
  geometry::Case turned = content;
  std::swap(turned.device.sources[0], turned.device.sources[1]);
  turned.loads[2].powers = {{0, 20.0}, {1, 30.0}};
  const Solved a = solved(content, stopped);
  const Solved b = solved(turned, stopped);
  CHECK(a.steady.sources[0].state == b.steady.sources[1].state);
  CHECK(a.steady.sources[1].state == b.steady.sources[0].state);
  CHECK(a.steady.sources[0].power == b.steady.sources[1].power);
}

TEST_CASE("nothing comes back from an outlet that is shut, or whose fan stands and lets it draw", "[heat]") {
  geometry::Case content = heat_chassis();
  content.device.vents[kGrille].recirculates = {{kOutlet, 0.5}};
  const int busy = add_condition(content, "flat", 0, 1);
  geometry::Case shut = content;
  shut.device.vents[kOutlet].blocked = 1.0;
  const Solved closed = solved(shut, busy);
  for (const network::HeatLink& link : closed.made.net.graph.links)
    CHECK(link.kind != network::LinkKind::recirculation);
  // Stood on its rear edge with the fan still, the outlet is the lowest vent: it draws, and gives nothing.
  const Solved still = solved(content, add_condition(content, "on-rear-edge", 0, 2));
  network::Equations equations(still.made.net.graph);
  equations.evaluate(still.steady.state);
  const int outlet = still.made.net.layout.vent_openings[kOutlet][0];
  for (int link = 0; link < equations.n_links(); ++link) {
    const network::LinkState& way = equations.link(link);
    if (way.outlet.element < 0) continue;
    CHECK(way.heat <= equations.heat_capacity() * equations.element(outlet).forward *
                              (still.at(way.against) - still.made.net.graph.ambient.temperature) +
                          1e-15);
  }
}
