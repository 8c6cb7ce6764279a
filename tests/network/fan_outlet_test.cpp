// A bare hole right at a fan: what the fan blows leaves it, and nothing comes back through it.
#include <catch2/catch.hpp>

#include "solver/network/vent_law.hpp"
#include "solver/study/predict.hpp"
#include "tests/support/chassis.hpp"

using namespace tuft;
using namespace tuft::network;

namespace {

/// A box that stands, with a wide intake and an axial fan of 80 mm at its outlet, in air 15 K warmer than the
/// room.
geometry::Case blown_box(geometry::CoverKind kind, double speed) {
  geometry::Case c = test::box({0.2, 0.2, 0.12});
  geometry::Vent in = test::vent("in", geometry::Face::left, {0.0, 0.1, 0.06}, 0.1, 0.06);
  geometry::Vent out = test::vent("out", geometry::Face::right, {0.2, 0.1, 0.06}, 0.072, 0.072);
  out.cover.kind = kind;
  out.behind = {geometry::PlaceKind::fan_outlet, 0};
  c.device.vents = {in, out};
  geometry::Fan fan;
  fan.name = "fan";
  fan.kind = geometry::FanKind::axial;
  fan.diameter = 0.08;
  fan.thickness = 0.025;
  fan.speed = 2000.0 / 60.0;
  fan.draws_from = {geometry::PlaceKind::zone, 0};
  fan.blows_into = {geometry::PlaceKind::vent, 1};
  c.device.fans = {fan};
  geometry::FanSetting setting;
  setting.fan = 0;
  setting.speed = speed;
  c.loads[0].fans = {setting};
  geometry::Source source;
  source.name = "board";
  source.shares = {{{geometry::PlaceKind::zone, 0}, 1.0}};
  c.device.sources = {source};
  geometry::SourcePower given;
  given.source = 0;
  given.power = 30.0;
  c.loads[0].powers = {given};
  return c;
}

}  // namespace

// Air that the fan warms the room with, 4 to 30 K warmer, would exchange less through the hole than the fan
// moves.
TEST_CASE("no air comes back through a hole that a fan blows out of", "[derived]") {
  for (const double rpm : {300.0, 700.0, 1000.0, 2000.0}) {
    const study::ConditionResult result = study::predict(blown_box(geometry::CoverKind::open, rpm / 60.0), 0);
    REQUIRE(result.report.converged);
    const study::VentResult& out = result.vents[1];
    INFO(rpm << " rpm: " << out.outflow << " out and " << out.inflow << " in, kg/s");
    CHECK(out.outflow > 5e-4);
    CHECK(out.inflow < 1e-3 * out.outflow);
  }
}

TEST_CASE("a vent at a fan or fins exchanges no more air than the same vent before a zone", "[derived]") {
  for (const auto kind : {geometry::CoverKind::open, geometry::CoverKind::perforated,
                          geometry::CoverKind::mesh, geometry::CoverKind::slots}) {
    geometry::Vent vent = blown_box(kind, 10.0).device.vents[1];
    geometry::Vent before_zone = vent;
    before_zone.behind = {geometry::PlaceKind::zone, 0};
    CHECK(counterflow_share(before_zone) == 1.0);
    for (const auto behind : {geometry::PlaceKind::fan_outlet, geometry::PlaceKind::fins}) {
      vent.behind = {behind, 0};
      // The span that is left over the own inertia is the whole span over that before a zone.
      CHECK(counterflow_share(vent) * vent_law(before_zone).inertial == Approx(vent_law(vent).inertial));
      CHECK(counterflow_share(vent) < 1.0);
    }
    vent.cover.loss_given = true;
    CHECK(counterflow_share(vent) == 1.0);
  }
}
