// The room's draught and a support's tilt at the network's openings.
#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "geometry/device/attitude.hpp"
#include "solver/network/assemble.hpp"
#include "solver/network/outside_pressure.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/wind_pressure.hpp"
#include "solver/study/predict.hpp"
#include "tests/network/chassis.hpp"
#include "tests/support/chassis.hpp"

using namespace tuft;
using namespace tuft::geometry;

namespace {

constexpr double kOneDegree = numerics::kPi / 180.0;

// A box in free air with a bare opening in the left and in the right face, at one height, and no heat.
Case two_openings() {
  Case c = test::box({0.2, 0.3, 0.1});
  c.device.vents = {test::vent("left", Face::left, {0.0, 0.15, 0.05}, 0.05, 0.02),
                    test::vent("right", Face::right, {0.2, 0.15, 0.05}, 0.05, 0.02)};
  return c;
}

void give_heat(Case& c, double watts) {
  Source source;
  source.name = "heat";
  source.shares = {{{PlaceKind::zone, 0}, 1.0}};
  c.device.sources = {source};
  c.loads[0].powers = {{0, watts}};
}

void check_close(const study::VentResult& a, const study::VentResult& b, double flow) {
  CHECK(a.inflow == Approx(b.inflow).margin(1e-7 * flow));
  CHECK(a.outflow == Approx(b.outflow).margin(1e-7 * flow));
  CHECK(a.temperature_out == Approx(b.temperature_out).epsilon(1e-9));
}

}  // namespace

TEST_CASE("a draught drives cold air through two openings by the difference of their pressures (derived)") {
  Case c = two_openings();
  c.room.draught.speed = 0.5;
  c.room.draught.from = 90.0 * kOneDegree;  // from the right
  const study::ConditionResult result = study::predict(c, 0);
  REQUIRE(result.report.converged);
  CHECK(result.vents[1].role == Role::intake);
  CHECK(result.vents[0].role == Role::exhaust);
  // Equal openings: the inside lies half way between the two, but for the little that its own stream takes.
  const double head = 0.5 * result.ambient_density * 0.25;
  const double facing = physics::wall_pressure_coefficient(0.0, 1.5) * head;
  const double lee = physics::wall_pressure_coefficient(numerics::kPi, 1.5) * head;
  CHECK(result.vents[0].pressure + result.vents[1].pressure == Approx(facing + lee).epsilon(1e-6));
  CHECK(result.vents[0].draught_head == Approx(-result.vents[1].draught_head).epsilon(1e-6));
  CHECK(result.vents[1].draught_head == Approx(0.5 * (lee - facing)).epsilon(0.01));
  CHECK(result.vents[1].fan_head == Approx(0.0).margin(1e-12));
  CHECK(result.vents[1].buoyancy_head == Approx(0.0).margin(1e-9));
}

TEST_CASE("what a support shelters counts on the draught's speed") {
  Case c = two_openings();
  c.room.draught.speed = 0.4;
  const network::OutsidePressure bare(c, c.conditions[0], 1.2);
  c.supports[0].shelter = 0.5;
  const network::OutsidePressure sheltered(c, c.conditions[0], 1.2);
  CHECK(sheltered.before(Face::front) == Approx(0.25 * bare.before(Face::front)));
  c.supports[0].shelter = 1.0;
  CHECK(network::OutsidePressure(c, c.conditions[0], 1.2).before(Face::front) == 0.0);
}

TEST_CASE("still air and a level support give the same bytes as a case that knows of neither") {
  Case c = testing::test_chassis();
  const int flat = testing::add_condition(c, "flat", 1, 1);
  Case still = c;
  still.room.draught.from = 1.0;  // from anywhere: nothing moves
  for (Support& support : still.supports) support.shelter = 0.3;
  const auto a = study::predict(c, flat), b = study::predict(still, flat);
  for (std::size_t v = 0; v < a.vents.size(); ++v) {
    CHECK(a.vents[v].inflow == b.vents[v].inflow);
    CHECK(a.vents[v].outflow == b.vents[v].outflow);
    CHECK(a.vents[v].pressure == b.vents[v].pressure);
    CHECK(b.vents[v].draught_head == 0.0);
  }
}

TEST_CASE("a faint draught changes flows as the square of its speed") {
  Case c = two_openings();
  give_heat(c, 3.0);
  const double at_rest = study::predict(c, 0).vents[0].pressure;
  const auto change = [&](double speed) {
    c.room.draught.speed = speed;
    return study::predict(c, 0).vents[0].pressure - at_rest;
  };
  const double slow = change(1e-3), twice = change(2e-3);
  CHECK(std::abs(slow) > 0.0);
  CHECK(twice / slow == Approx(4.0).epsilon(0.02));
}

TEST_CASE("turning device and draught together changes nothing") {
  Case c = testing::test_chassis();
  const int edge = testing::add_condition(c, "on-left-edge", 0, 2);
  c.room.draught.speed = 0.3;
  c.room.draught.from = 0.4;
  c.supports[0].tilt.x = 1.5 * kOneDegree;
  const auto before = study::predict(c, edge);
  REQUIRE(before.report.converged);
  for (const double turn : {0.7, 2.0, -1.9}) {
    Case turned = c;
    const Eigen::Matrix3d rotation = Eigen::AngleAxisd(turn, Vec3::UnitZ()).toRotationMatrix();
    for (Pose& pose : turned.poses) pose.to_world = rotation * pose.to_world;
    turned.room.draught.from = *c.room.draught.from + turn;
    turned.supports[0].tilt.x = *c.supports[0].tilt.x * std::cos(turn);
    turned.supports[0].tilt.y = *c.supports[0].tilt.x * std::sin(turn);
    const auto after = study::predict(turned, edge);
    REQUIRE(after.report.converged);
    for (std::size_t v = 0; v < before.vents.size(); ++v)
      check_close(before.vents[v], after.vents[v], before.through_flow);
  }
}

TEST_CASE("a draught from the left does to the left what one from the right does to the right") {
  Case c = two_openings();
  give_heat(c, 3.0);
  c.room.draught.speed = 0.2;
  c.room.draught.from = -70.0 * kOneDegree;
  const auto from_left = study::predict(c, 0);
  c.room.draught.from = 70.0 * kOneDegree;
  const auto from_right = study::predict(c, 0);
  check_close(from_left.vents[0], from_right.vents[1], from_left.through_flow);
  check_close(from_left.vents[1], from_right.vents[0], from_left.through_flow);
}

TEST_CASE("mouths of the gap under a device have the pressure of the face beside them") {
  Case c = testing::test_chassis();
  const int flat = testing::add_condition(c, "flat", 1, 2);
  c.room.draught.speed = 0.3;
  const network::Network net = network::assemble(c, c.conditions[flat]);
  const double density = physics::density(net.graph.ambient.state, net.graph.ambient.temperature);
  const network::OutsidePressure air(c, c.conditions[flat], density);
  std::set<double> seen;
  for (const network::Opening& opening : net.graph.openings)
    if (opening.name == "grille (gap edge)") seen.insert(opening.outside);
  std::set<double> expected;
  for (const Face face : {Face::left, Face::right, Face::front, Face::rear})
    expected.insert(air.before(face));
  CHECK(seen == expected);
}

TEST_CASE("an open lid is a screen behind the top; a closed one is none") {
  Case c = two_openings();
  c.device.lid.present = true;
  c.room.draught.speed = 0.3;  // from the front
  const auto before_top = [&](double degrees) {
    c.device.lid.angle = degrees * kOneDegree;
    return network::OutsidePressure(c, c.conditions[0], 1.2).before(Face::top);
  };
  CHECK(before_top(90.0) > 0.0);
  CHECK(before_top(0.0) < 0.0);
  CHECK(before_top(180.0) == Approx(before_top(0.0)));
  c.room.draught.from = numerics::kPi;  // from behind the screen
  CHECK(before_top(90.0) < 0.0);
}

TEST_CASE("tilt turns gravity and leaves the gap under the device as it is") {
  Case c = testing::test_chassis();
  const int flat = testing::add_condition(c, "flat", 1, 1);
  const network::Network level = network::assemble(c, c.conditions[flat]);
  c.supports[1].tilt.x = 2.0 * kOneDegree;
  const network::Network tilted = network::assemble(c, c.conditions[flat]);
  // About the axis to the right, right-handed: the rear rises, and down points to the front.
  const Vec3 g = tilted.graph.ambient.gravity;
  CHECK(g.y() == Approx(-9.80665 * std::sin(2.0 * kOneDegree)));
  CHECK(g.x() == Approx(0.0).margin(1e-12));
  REQUIRE(level.graph.openings.size() == tilted.graph.openings.size());
  for (std::size_t e = 0; e < level.graph.openings.size(); ++e) {
    const network::Opening& a = level.graph.openings[e];
    if (a.name.find("(gap") == std::string::npos) continue;
    CHECK(a.law.viscous == tilted.graph.openings[e].law.viscous);
    CHECK(a.area == tilted.graph.openings[e].area);
  }
}

TEST_CASE("four slots on top: level, all breathe both ways; on a table off by 2 degrees two draw, two blow") {
  Case c = test::box({0.2, 0.1, 0.05});
  for (const double x : {0.025, 0.075, 0.125, 0.175})
    c.device.vents.push_back(
        test::vent("slot-" + std::to_string(c.device.vents.size()), Face::top, {x, 0.05, 0.05}, 0.01, 0.06));
  give_heat(c, 5.0);
  c.device.zones[0].wall_conductance = 0.1;
  for (const study::VentResult& vent : study::predict(c, 0).vents) CHECK(vent.role == Role::both_ways);
  c.supports[0].tilt.y = 2.0 * kOneDegree;  // the right side down
  const auto tilted = study::predict(c, 0);
  REQUIRE(tilted.report.converged);
  CHECK(tilted.vents[0].role == Role::exhaust);
  CHECK(tilted.vents[1].role == Role::exhaust);
  CHECK(tilted.vents[2].role == Role::intake);
  CHECK(tilted.vents[3].role == Role::intake);
}
