// What the network hands to the field, and how the two are compared.
#include "solver/study/field_comparison.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "solver/flow2d/layer_solve.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/predict.hpp"
#include "tests/flow2d/layer_support.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using namespace tuft::study;
using geometry::Role;
using tuft::test::case_named;

namespace {

flow2d::PlanOptions coarse(const geometry::Case& c) {
  flow2d::PlanOptions options;
  options.cell = std::min(c.device.size.x(), c.device.size.y()) / 14.0;
  return options;
}

// Two vents by hand: 2 g/s in by the first and out by the second, by the network.
struct Pair {
  geometry::Case content;
  study::ConditionResult network;
  flow2d::PlanResult field;
};

Pair by_hand() {
  Pair pair;
  pair.content = flow2d::test::box({0.2, 0.1, 0.02});
  pair.content.device.vents = {
      flow2d::test::vent("in", geometry::Face::left, {0.0, 0.05, 0.01}, 0.05, 0.01),
      flow2d::test::vent("out", geometry::Face::right, {0.2, 0.05, 0.01}, 0.05, 0.01)};
  pair.network.report.converged = true;
  pair.network.through_flow = pair.field.through_flow = 2e-3;
  for (int v = 0; v < 2; ++v) {
    study::VentResult vent;
    vent.vent = v;
    vent.role = v == 0 ? Role::intake : Role::exhaust;
    (v == 0 ? vent.inflow : vent.outflow) = 2e-3;
    vent.share = 1.0;
    vent.face_velocity = 3.0;
    vent.temperature_in = 294.0;
    vent.temperature_out = 320.0;
    pair.network.vents.push_back(vent);
    flow2d::VentFlows flows;
    flows.inflow = vent.inflow;
    flows.outflow = vent.outflow;
    flows.share = 1.0;
    flows.face_velocity = 3.0;
    flows.temperature_in = 294.0;
    flows.temperature_out = 320.0;
    pair.field.vents.push_back(flows);
  }
  pair.field.network_vents = pair.field.vents;
  return pair;
}

}  // namespace

TEST_CASE("two that say the same agree") {
  const Pair pair = by_hand();
  const FieldComparison result = compare_with_field(pair.content, pair.network, pair.field);
  CHECK(result.roles_differ == 0);
  CHECK(result.through_flow == 0.0);
  CHECK(result.start_apart == 0.0);
  CHECK(result.largest_flow == -1);
  CHECK(result.largest_temperature == -1);
  REQUIRE(result.vents.size() == 2);
  CHECK(result.vents[0].network.role == Role::intake);
  CHECK(result.vents[0].field.role == Role::intake);
  CHECK(result.vents[1].field.role == Role::exhaust);
}

TEST_CASE("differences are field less network, and the largest are named") {
  Pair pair = by_hand();
  pair.field.vents[0].inflow = 1.5e-3;
  pair.field.vents[1].outflow = 1.8e-3;
  pair.field.vents[1].temperature_out = 317.0;
  pair.field.through_flow = 1.8e-3;
  const FieldComparison result = compare_with_field(pair.content, pair.network, pair.field);
  CHECK(result.vents[0].of_through_flow == Approx(-0.25));
  CHECK(result.vents[0].flow == Approx(-0.25));
  CHECK(result.vents[1].of_through_flow == Approx(0.1));  // less goes out: nearer to in
  CHECK(result.vents[1].temperature == Approx(-3.0));
  CHECK(result.through_flow == Approx(-0.1));
  CHECK(result.largest_flow == 0);
  CHECK(result.largest_temperature == 1);
}

TEST_CASE("roles that differ are counted, leaks are not") {
  Pair pair = by_hand();
  std::swap(pair.field.vents[0].inflow, pair.field.vents[0].outflow);
  FieldComparison result = compare_with_field(pair.content, pair.network, pair.field);
  CHECK(result.roles_differ == 1);
  CHECK(result.vents[0].roles_differ);
  CHECK_FALSE(result.vents[1].roles_differ);
  CHECK(result.vents[0].field.role == Role::exhaust);
  pair.content.device.vents[0].is_leak = true;
  result = compare_with_field(pair.content, pair.network, pair.field);
  CHECK(result.roles_differ == 0);
  CHECK(result.vents[0].roles_differ);
}

TEST_CASE("a field that started from another state says how far off it was") {
  Pair pair = by_hand();
  pair.field.network_vents[1].outflow = 1e-3;
  CHECK(compare_with_field(pair.content, pair.network, pair.field).start_apart == Approx(0.5));
}

TEST_CASE("what cannot be compared is refused") {
  Pair pair = by_hand();
  pair.field.vents.pop_back();
  CHECK_THROWS_WITH(compare_with_field(pair.content, pair.network, pair.field), Catch::Contains("2 vents"));
  pair.network.report.converged = false;
  CHECK_THROWS_AS(layer_boundary_data(pair.network), std::invalid_argument);
}

// The same laws, the same watts, walls, speeds and outside: the network that the layers start from must be
// the one that was predicted. Derived: identity.
TEST_CASE("what the network hands on gives the network itself again", "[balance]") {
  for (const char* name : {"slim-notebook", "fanless-router", "mini-desktop", "handheld-console"}) {
    const geometry::Case c = case_named(name);
    const study::ConditionResult network = study::predict(c, 0);
    REQUIRE(network.report.converged);
    const flow2d::PlanResult field =
        flow2d::solve_plan(c, c.conditions[0], layer_boundary_data(network), coarse(c));
    INFO(name << ": " << field.message);
    REQUIRE(field.converged());
    const FieldComparison result = compare_with_field(c, network, field);
    CHECK(result.start_apart < 1e-4);
    for (std::size_t v = 0; v < network.vents.size(); ++v) {
      INFO(c.device.vents[v].name);
      if (network.vents[v].outflow > 0.01 * network.through_flow)
        CHECK(field.network_vents[v].temperature_out ==
              Approx(network.vents[v].temperature_out).margin(0.02));
    }
  }
}

// Books: what the air is given less what it loses through walls leaves with the air.
TEST_CASE("heat given to the air less what goes through its walls leaves with the air", "[balance]") {
  const geometry::Case c = case_named("slim-notebook");
  for (int condition = 0; condition < 3; ++condition) {
    const study::ConditionResult r = study::predict(c, condition);
    REQUIRE(r.report.converged);
    double heat = 0.0;
    for (std::size_t z = 0; z < r.zones.size(); ++z)
      heat +=
          r.air_heat.zones[z] - r.air_heat.zone_walls[z] * (r.zones[z].temperature - r.ambient_temperature);
    for (std::size_t f = 0; f < r.fins.size(); ++f)
      heat += r.air_heat.fins[f] - r.air_heat.fin_walls[f] * (r.fins[f].temperature - r.ambient_temperature);
    CHECK(heat == Approx(r.heat.with_air).epsilon(1e-3));
  }
}
