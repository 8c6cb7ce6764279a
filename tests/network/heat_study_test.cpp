// Heat in the results of a study: skin beside its limits, the screen's edge, sources and their limits.
#include <catch2/catch.hpp>

#include "solver/physics/film.hpp"
#include "solver/study/predict.hpp"
#include "tests/network/chassis.hpp"
#include "tests/network/heat_chassis.hpp"

using namespace tuft;
using namespace tuft::testing;

TEST_CASE("the ways of the heat add to the power, and every body is reported", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 1, 0);
  const study::ConditionResult result = study::predict(content, flat);
  REQUIRE(result.report.converged);
  CHECK(result.power == Approx(40.0));
  CHECK(result.heat.with_air + result.heat.through_skin == Approx(result.power).epsilon(1e-8));
  CHECK(result.balance.energy < 1e-8);
  REQUIRE(result.sources.size() == 2);
  CHECK(result.sources[kProcessor].asked == Approx(24.0));
  CHECK(result.sources[kProcessor].has_temperature);
  REQUIRE(result.parts.size() == 3);
  // Heat runs down from chip to pipe to fins.
  CHECK(result.sources[kProcessor].temperature > result.parts[kPipe].temperature);
  CHECK(result.parts[kPipe].temperature > result.parts[2].temperature);
  REQUIRE(result.skins.size() == 2);
  CHECK(!result.skins[kPalmRest].lies_on);
  CHECK(result.skins[kBaseSkin].lies_on);
  // IEC 62368-1, TS1, plastic touched for 1 min and longer: 48 C (as the touch limits' test names it).
  CHECK(result.skins[kPalmRest].limit == Approx(321.15));
}

TEST_CASE("a patch of skin balances what it gets and gives", "[heat]") {
  geometry::Case content = heat_chassis();
  content.device.parts[kBoard].joints.pop_back();
  for (const std::string& pose : geometry::pose_words()) {
    const int condition = add_condition(content, pose, 0, 0);
    const study::ConditionResult result = study::predict(content, condition);
    const study::SkinResult& palm = result.skins[kPalmRest];
    const double inside = 8.0 * 0.12 * 0.08 * (result.zones[1].temperature - palm.temperature);
    INFO(pose);
    CHECK(palm.heat_out == Approx(inside).epsilon(1e-7));
    CHECK(palm.heat_out > 0.0);
  }
}

TEST_CASE("no heat reaches a room from a screen's edge that it does not get from the jet", "[heat]") {
  const physics::AirState state = physics::room_air(101325.0, 294.15, 0.45);
  const physics::SlotJet jet{0.08, 6e-3, 2.0, 323.15, 0.02};
  const physics::LidEdge edge = physics::lid_edge(jet, state, 294.15);
  CHECK(edge.air_temperature == Approx(323.15));  // 20 mm is within the jet's core
  CHECK(edge.temperature > 294.15);
  CHECK(edge.temperature < edge.air_temperature);
  physics::SlotJet far = jet;
  far.distance = 0.2;
  CHECK(physics::lid_edge(far, state, 294.15).temperature < edge.temperature);
  // sqrt(5 x 6 mm / 200 mm) of the jet's rise is left.
  CHECK(physics::lid_edge(far, state, 294.15).air_temperature == Approx(294.15 + std::sqrt(0.15) * 29.0));
  physics::SlotJet cold = jet;
  cold.temperature = 294.15;
  CHECK(physics::lid_edge(cold, state, 294.15).temperature == Approx(294.15));
  physics::SlotJet wrong = jet;
  wrong.distance = 0.0;
  CHECK_THROWS_AS(physics::lid_edge(wrong, state, 294.15), std::invalid_argument);
}

TEST_CASE("the order in which sources, parts and skin are written changes no bit", "[heat]") {
  geometry::Case content = heat_chassis();
  const int flat = add_condition(content, "flat", 1, 0);
  geometry::Case turned = content;
  std::swap(turned.device.sources[0], turned.device.sources[1]);
  std::swap(turned.device.skins[0], turned.device.skins[1]);
  for (geometry::Load& load : turned.loads)
    for (geometry::SourcePower& entry : load.powers) entry.source = 1 - entry.source;
  for (geometry::Joint& joint : turned.device.parts[kBoard].joints)
    if (joint.to.kind == geometry::PlaceKind::skin) joint.to.index = 1 - joint.to.index;
  std::reverse(turned.device.parts[kBoard].joints.begin(), turned.device.parts[kBoard].joints.end());
  const study::ConditionResult a = study::predict(content, flat);
  const study::ConditionResult b = study::predict(turned, flat);
  CHECK(a.sources[0].temperature == b.sources[1].temperature);
  CHECK(a.skins[0].temperature == b.skins[1].temperature);
  CHECK(a.vents[kGrille].inflow == b.vents[kGrille].inflow);
}

TEST_CASE("a patch over a wide gap loses heat as in free air, over a narrow one less", "[heat]") {
  geometry::Case content = heat_chassis();
  const auto base = [&](double gap) {
    content.supports[1].kind = geometry::SupportKind::stand;
    content.supports[1].gap_given = true;
    content.supports[1].gap = gap;
    const study::ConditionResult result = study::predict(content, add_condition(content, "flat", 1, 2));
    const study::SkinResult& skin = result.skins[kBaseSkin];
    return skin.heat_out / (0.12 * 0.08 * (skin.temperature - result.ambient_temperature));
  };
  const study::ConditionResult hung = study::predict(content, add_condition(content, "flat", 0, 2));
  const study::SkinResult& free = hung.skins[kBaseSkin];
  const double in_air = free.heat_out / (0.12 * 0.08 * (free.temperature - hung.ambient_temperature));
  CHECK(base(0.1) == Approx(in_air).epsilon(0.05));
  CHECK(base(0.012) == Approx(in_air).epsilon(0.1));
  CHECK(base(0.0099) == Approx(in_air).epsilon(0.25));
  CHECK(base(0.003) < base(0.0099));
}

TEST_CASE("a lap warms a cold device, and its warmth is none of the device's power", "[heat]") {
  geometry::Case content = heat_chassis();
  geometry::Support lap = content.supports[1];
  lap.name = "lap";
  lap.kind = geometry::SupportKind::lap;
  lap.covered = 0.3;
  lap.sink = 0.006;
  lap.permeability = 0.1;
  lap.thickness = 0.005;
  content.supports.push_back(lap);
  const study::ConditionResult cold = study::predict(content, add_condition(content, "flat", 3, 3));
  REQUIRE(cold.report.converged);
  CHECK(cold.power == 0.0);
  CHECK(cold.skins[kBaseSkin].heat_out < 0.0);
  CHECK(cold.skins[kBaseSkin].temperature > cold.ambient_temperature);
  CHECK(cold.skins[kBaseSkin].temperature < 306.0);
  CHECK(cold.heat.with_air + cold.heat.through_skin == Approx(0.0).margin(1e-8));
  CHECK(!cold.skins[kBaseSkin].lies_on);  // legs touch it
}

TEST_CASE("a lap warms a cold device less the more room air flushes the gap, and not at all across 10 mm",
          "[heat]") {
  geometry::Case content = heat_chassis();
  content.supports[1].kind = geometry::SupportKind::lap;
  content.supports[1].gap_given = true;
  const auto warmed = [&](double gap) {
    content.supports[1].gap = gap;
    const study::ConditionResult cold = study::predict(content, add_condition(content, "flat", 1, 3));
    REQUIRE(cold.report.converged);
    return cold.skins[kBaseSkin].temperature - cold.ambient_temperature;
  };
  CHECK(warmed(0.002) > warmed(0.006));
  CHECK(warmed(0.006) > warmed(0.009));
  CHECK(warmed(0.00999) == Approx(0.0).margin(0.05));
  CHECK(warmed(0.01001) == Approx(0.0).margin(0.05));
}

TEST_CASE("a closed lid keeps the heat of the skin under it, and hands off it", "[heat]") {
  geometry::Case content = heat_chassis();
  content.device.lid.present = true;
  content.device.lid.angle = 1.9;
  content.device.lid.clearance = 1e-3;
  const int open = add_condition(content, "flat", 1, 0);
  const study::ConditionResult before = study::predict(content, open);
  content.device.lid.angle = 0.0;
  const study::ConditionResult closed = study::predict(content, open);
  CHECK(closed.skins[kPalmRest].temperature > before.skins[kPalmRest].temperature);
  CHECK(closed.skins[kPalmRest].lies_on);
  CHECK(!before.skins[kPalmRest].lies_on);
}

TEST_CASE("a fan with hysteresis keeps to a higher speed when the device comes from hotter", "[heat]") {
  geometry::Case content = heat_chassis();
  geometry::Fan& fan = content.device.fans[0];
  fan.speed_control.given = true;
  fan.speed_control.sensor = {geometry::PlaceKind::source, kProcessor};
  fan.speed_control.temperature = {303.15, 353.15};
  fan.speed_control.speed = {15.0, 75.0};
  fan.speed_control.hysteresis = 5.0;
  for (geometry::Load& load : content.loads) load.fans.clear();
  const int flat = add_condition(content, "flat", 1, 0);
  const study::ConditionResult wide = study::predict(content, flat);
  CHECK(wide.fans[0].cooling_speed > wide.fans[0].speed + 0.5);
  content.device.fans[0].speed_control.hysteresis = 0.0;
  const study::ConditionResult none = study::predict(content, flat);
  CHECK(none.fans[0].cooling_speed == none.fans[0].speed);
  CHECK(none.fans[0].speed == Approx(wide.fans[0].speed));
}
