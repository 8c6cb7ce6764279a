// The devices of cases/, coarse: balances, roles' data, bytes, stillness, refusals.
#include <omp.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <limits>
#include <string>

#include "tests/flow2d/layer_support.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;
using geometry::Face;
using tuft::test::case_named;

namespace {

const char* const kCases[] = {"fanless-router", "handheld-console", "mini-desktop", "slim-notebook"};

/// The load's watts: seven tenths into the fins, where there are any, the rest into the zones.
LayerBoundaryData heat_of(const geometry::Case& c, const geometry::Condition& condition) {
  double power = 0.0;
  for (const geometry::SourcePower& p : c.loads[static_cast<std::size_t>(condition.load)].powers)
    power += *p.power;
  LayerBoundaryData given;
  const std::size_t fins = c.device.fin_stacks.size(), zones = c.device.zones.size();
  const double to_fins = fins > 0 ? 0.7 * power : 0.0;
  given.fin_stacks.assign(fins, fins > 0 ? to_fins / static_cast<double>(fins) : 0.0);
  given.zones.assign(zones, (power - to_fins) / static_cast<double>(zones));
  return given;
}

PlanOptions coarse(const geometry::Case& c) {
  PlanOptions options;
  options.cell = std::min(c.device.size.x(), c.device.size.y()) / 14.0;
  return options;
}

bool same_bytes(const flow2d::Array2& a, const flow2d::Array2& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

}  // namespace

TEST_CASE("mass and heat balance in every condition of every case", "[balance]") {
  for (const char* name : kCases) {
    const geometry::Case c = case_named(name);
    for (const geometry::Condition& condition : c.conditions) {
      const PlanResult r = solve_plan(c, condition, heat_of(c, condition), coarse(c));
      INFO(name << ", " << condition.name << ": " << r.message);
      REQUIRE(r.converged());
      CHECK(r.mass <= 1e-10);
      CHECK(r.energy <= 1e-7);
      CHECK(r.energy_cells <= 1e-7);
      double in = 0.0, out = 0.0;
      for (const VentFlows& v : r.vents) {
        in += v.inflow;
        out += v.outflow;
        double cells = 0.0;
        for (const CellFlux& f : v.cells) cells += f.inflow;
        if (!v.cells.empty()) CHECK(cells == Approx(v.inflow).margin(1e-15));
      }
      CHECK(in == Approx(r.through_flow));
      CHECK(out == Approx(in).epsilon(1e-9));
      CHECK(r.vents.size() == c.device.vents.size());
      CHECK(r.network_vents.size() == c.device.vents.size());
    }
  }
}

TEST_CASE("bounded second-order convection converges with the same books, and moves the vents little",
          "[balance]") {
  for (const char* name : kCases) {
    const geometry::Case c = case_named(name);
    const geometry::Condition& condition = c.conditions[0];
    PlanOptions options = coarse(c);
    const PlanResult upwind = solve_plan(c, condition, heat_of(c, condition), options);
    options.scheme = flow2d::Convection::limited;
    const PlanResult limited = solve_plan(c, condition, heat_of(c, condition), options);
    INFO(name << ", " << condition.name << ": " << limited.message);
    REQUIRE(limited.converged());
    CHECK(upwind.first_order);
    CHECK_FALSE(limited.first_order);
    CHECK(limited.mass <= 1e-10);
    CHECK(limited.energy <= 1e-7);
    CHECK(limited.energy_cells <= 1e-7);
    CHECK(limited.through_flow == Approx(upwind.through_flow).epsilon(0.05));
    CHECK(limited.through_flow != upwind.through_flow);
  }
}

// Jets that cross few cells: a Jacobian that takes limiters for fixed factors needs 40 iterations a step
// there and gets nowhere in most (2500 in all; 53 with the true slopes).
TEST_CASE("bounded convection of the notebook's jets takes few iterations", "[balance]") {
  const geometry::Case c = case_named("slim-notebook");
  PlanOptions options;
  options.cell = 4e-3;
  options.scheme = flow2d::Convection::limited;
  const PlanResult r = solve_plan(c, c.conditions[0], heat_of(c, c.conditions[0]), options);
  INFO(r.message);
  REQUIRE(r.converged());
  CHECK_FALSE(r.first_order);
  CHECK(r.linear_iterations < 200);
}

TEST_CASE("in use the notebook's layers and its network agree on the vents", "[network]") {
  const geometry::Case c = case_named("slim-notebook");
  const geometry::Condition& use = c.conditions[0];
  const PlanResult r = solve_plan(c, use, heat_of(c, use), coarse(c));
  REQUIRE(r.converged());
  double through = 0.0;
  for (const VentFlows& vent : r.network_vents) through += vent.inflow;
  through = std::max(through, r.through_flow);
  for (std::size_t v = 0; v < r.vents.size(); ++v) {
    INFO(c.device.vents[v].name);
    const VentFlows &by_field = r.vents[v], &by_network = r.network_vents[v];
    const double apart = by_field.inflow - by_field.outflow - (by_network.inflow - by_network.outflow);
    CHECK(std::abs(apart) < 0.05 * through);
  }
}

TEST_CASE("one thread and two give the same bytes", "[threads]") {
  const geometry::Case c = case_named("slim-notebook");
  const geometry::Condition& use = c.conditions[0];
  PlanOptions options;
  options.cell = 4e-3;  // enough unknowns for layers, factors and sums to be shared among threads
  const int before = omp_get_max_threads();
  omp_set_num_threads(1);
  const PlanResult one = solve_plan(c, use, heat_of(c, use), options);
  omp_set_num_threads(2);
  const PlanResult two = solve_plan(c, use, heat_of(c, use), options);
  omp_set_num_threads(before);
  REQUIRE(one.layers.size() == two.layers.size());
  for (std::size_t l = 0; l < one.layers.size(); ++l) {
    CHECK(same_bytes(one.layers[l].u_face, two.layers[l].u_face));
    CHECK(same_bytes(one.layers[l].v_face, two.layers[l].v_face));
    CHECK(same_bytes(one.layers[l].pressure, two.layers[l].pressure));
    CHECK(same_bytes(one.layers[l].temperature, two.layers[l].temperature));
  }
  for (std::size_t v = 0; v < one.vents.size(); ++v) CHECK(one.vents[v].inflow == two.vents[v].inflow);
}

TEST_CASE("a cold device without a running fan stays still in any pose", "[exact]") {
  geometry::Case c = case_named("slim-notebook");
  LayerBoundaryData given;
  given.fan_speeds.assign(c.device.fans.size(), 0.0);
  c.poses.push_back(geometry::tilted("tilted", geometry::Vec3(0.6, 0.8, 0.0), 0.7));
  for (const int pose : {c.conditions[0].pose, static_cast<int>(c.poses.size()) - 1}) {
    geometry::Condition condition = c.conditions[0];
    condition.pose = pose;
    const PlanResult r = solve_plan(c, condition, given, coarse(c));
    INFO(r.message);
    REQUIRE(r.converged());
    for (const VentFlows& v : r.vents) {
      CHECK(v.inflow == 0.0);
      CHECK(v.outflow == 0.0);
    }
    for (const LayerFields& layer : r.layers)
      for (const double u : layer.u_face.values()) REQUIRE(u == 0.0);
  }
}

TEST_CASE("wrong input is refused, by name", "[messages]") {
  const geometry::Case c = case_named("fanless-router");
  PlanOptions options = coarse(c);
  const geometry::Condition& first = c.conditions[0];
  LayerBoundaryData given;
  given.zones = {1.0, 2.0};
  CHECK_THROWS_WITH(solve_plan(c, first, given, options), Catch::Contains("zones has 2"));
  given.zones = {std::numeric_limits<double>::quiet_NaN()};
  CHECK_THROWS_WITH(solve_plan(c, first, given, options), Catch::Contains("zones holds"));
  given.zones.clear();
  given.spots = {{7, Vec3::Zero(), 0.01, 0.01, 1.0}};
  CHECK_THROWS_WITH(solve_plan(c, first, given, options), Catch::Contains("no zone 7"));
  given.spots.clear();
  for (const double cell : {0.0, -1.0, 1.0}) {
    options.cell = cell;
    CHECK_THROWS_WITH(solve_plan(c, first, given, options), Catch::Contains("cell size"));
  }
  options = coarse(c);
  geometry::Condition nowhere = first;
  nowhere.pose = 99;
  CHECK_THROWS_WITH(solve_plan(c, nowhere, given, options), Catch::Contains("condition.pose"));
}

TEST_CASE("a spot warms its own cells, and all its heat leaves", "[balance]") {
  const geometry::Case c = case_named("fanless-router");
  LayerBoundaryData given;
  given.spots = {{0, Vec3(0.05, 0.05, 0.0), 0.03, 0.03, 6.0}};
  const PlanResult r = solve_plan(c, c.conditions[0], given, coarse(c));
  INFO(r.message);
  REQUIRE(r.converged());
  CHECK(r.power == 6.0);
  double sum = 0.0;
  const LayerFields& inside = r.layers[0];
  for (int j = 0; j < inside.heat.ny(); ++j)
    for (int i = 0; i < inside.heat.nx(); ++i)
      sum += inside.heat(i, j) * (inside.x[1] - inside.x[0]) * (inside.y[1] - inside.y[0]);
  CHECK(sum == Approx(6.0));
  CHECK(r.energy <= 1e-7);
}
