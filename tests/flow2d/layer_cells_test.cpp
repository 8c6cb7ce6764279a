// Plan layers on cells of 4, 2, 1 and 0.6 mm: what the network states exactly holds on all of them, the rest
// converges.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <vector>

#include "solver/physics/air.hpp"
#include "solver/physics/fin_heat.hpp"
#include "tests/flow2d/layer_support.hpp"
#include "tests/support/cases.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;
using geometry::Face;

namespace {

constexpr std::array<double, 4> kCells{4e-3, 2e-3, 1e-3, 0.6e-3};

/// Of the error, by three values on cells that are halved.
double observed_order(double coarse, double middle, double fine) {
  return std::log2(std::abs(coarse - middle) / std::abs(middle - fine));
}

/// A fan blows through fins along x that end at a vent in the left side, `breadth` wide.
geometry::Case finned_box(double breadth) {
  geometry::Case c = box({0.08, 0.06, 0.03});
  geometry::FinStack fins;
  fins.name = "fins";
  fins.count = 31.0;
  fins.gap = 1.1e-3;
  fins.height = 0.009;
  fins.length = 0.02;
  fins.fin_thickness = 0.2e-3;
  fins.conductivity = 385.0;
  fins.centre = {0.01, 0.03, 0.015};
  c.device.fin_stacks = {fins};
  c.device.vents = {vent("outlet", Face::left, {0.0, 0.03, 0.015}, breadth, 0.009),
                    vent("inlet", Face::top, {0.05, 0.03, 0.03}, 0.05, 0.05)};
  c.device.vents[0].behind = {geometry::PlaceKind::fins, 0};
  geometry::Fan fan = fan_into_zone(0, 30.0, 1e-3);
  fan.draws_from = {geometry::PlaceKind::zone, 0};
  fan.blows_into = {geometry::PlaceKind::fins, 0};
  fan.centre = {0.05, 0.03, 0.015};
  c.device.fans = {fan};
  return c;
}

/// Metal at 340 K that gives `watts` by the network; nothing goes through the walls.
LayerBoundaryData hot_metal(double watts) {
  LayerBoundaryData given;
  given.fin_stacks = {watts};
  given.fin_metals = {{340.0, watts}};
  given.zone_walls = given.fin_walls = {0.0};
  return given;
}

/// By the law that the network uses, for a flow through the stack.
double heat_by_law(const geometry::FinStack& fins, double flow, double room) {
  physics::FinStackHeat heat;
  heat.channels = {*fins.count, *fins.gap, *fins.height, *fins.length};
  heat.fin_thickness = *fins.fin_thickness;
  heat.fin_conductivity = *fins.conductivity;
  return physics::carried_heat(flow, physics::specific_heat(room), physics::fin_conductance(heat, flow, room))
             .value *
         (340.0 - room);
}

}  // namespace

TEST_CASE("fins take the network's pressure and give the law's heat on every size of cells", "[cells]") {
  const geometry::Case c = finned_box(0.0426);
  double watts = 10.0;
  std::vector<double> flow;
  for (int k = 0; k < 3; ++k) {  // what the law makes of the network's flow
    const PlanResult r = solved(c, kCells[0], hot_metal(watts));
    watts = heat_by_law(c.device.fin_stacks[0], r.network_vents[0].outflow, r.ambient_temperature);
  }
  for (const double cell : kCells) {
    const PlanResult r = solved(c, cell, hot_metal(watts));
    INFO(cell << ": " << r.message);
    REQUIRE(r.converged());
    const double apart = r.vents[0].outflow / r.network_vents[0].outflow - 1.0;
    REQUIRE(r.fins.size() == 1);
    const double heat =
        r.fins[0].heat / heat_by_law(c.device.fin_stacks[0], r.vents[0].outflow, r.ambient_temperature) - 1.0;
    std::printf("fins, %.1f mm: flow %+.3f %% of the network's, heat %+.3f %% of the law's\n", 1e3 * cell,
                100.0 * apart, 100.0 * heat);
    // The network takes the air's viscosity halfway between what enters and leaves; in the field it follows
    // the air, which warms fastest where it enters.
    CHECK(std::abs(apart) < 0.02);
    CHECK(std::abs(heat) < 0.005);
    flow.push_back(r.vents[0].outflow);
    CHECK(r.power == Approx(r.fins[0].heat));
    const double carried = 1006.0 * r.vents[0].outflow * (r.vents[0].temperature_out - r.ambient_temperature);
    CHECK(carried == Approx(r.power).epsilon(0.01));
    for (const LayerFields& layer : r.layers)
      CHECK(*std::max_element(layer.temperature.values().begin(), layer.temperature.values().end()) < 340.0);
  }
  CHECK(flow[3] == Approx(flow[2]).epsilon(1e-3));
}

TEST_CASE("a vent half as wide as its fins passes the same flow on every size of cells", "[cells]") {
  // The air spreads in the last row of cells: thinner cells must not throttle it.
  const geometry::Case c = finned_box(0.021);
  double flow[kCells.size()];
  for (std::size_t k = 0; k < kCells.size(); ++k) {
    const PlanResult r = solved(c, kCells[k]);
    INFO(kCells[k] << ": " << r.message);
    REQUIRE(r.converged());
    flow[k] = r.vents[0].outflow;
    std::printf("fins, narrow vent, %.1f mm: flow %+.3f %% of the network's\n", 1e3 * kCells[k],
                100.0 * (flow[k] / r.network_vents[0].outflow - 1.0));
    CHECK(flow[k] == Approx(r.network_vents[0].outflow).epsilon(0.01));
  }
  CHECK(flow[3] == Approx(flow[2]).epsilon(1e-3));
}

TEST_CASE("a passage takes what the network's does on every size of cells", "[cells]") {
  geometry::Case c = box({0.08, 0.048, 0.04});
  geometry::Zone& left = c.device.zones[0];
  left.name = "left";
  left.size.x() = 0.04;
  left.centre.x() = 0.02;
  geometry::Zone right = left;
  right.name = "right";
  right.centre.x() = 0.06;
  c.device.zones.push_back(right);
  geometry::Passage passage;
  passage.name = "slot";
  passage.zone_b = 1;
  passage.centre = {0.04, 0.024, 0.02};
  passage.width = 0.024;
  passage.height = 0.003;
  passage.length = 0.01;
  c.device.passages = {passage};
  c.device.vents = {vent("out", Face::right, {0.08, 0.024, 0.02}, 0.032, 0.02),
                    vent("fan-vent", Face::left, {0.0, 0.024, 0.02}, 0.032, 0.03)};
  c.device.vents[0].behind = {geometry::PlaceKind::zone, 1};
  c.device.vents[1].behind = {geometry::PlaceKind::fan_inlet, 0};
  c.device.fans = {fan_into_zone(1, 8.0, 4e-4)};
  double flow[kCells.size()];
  for (std::size_t k = 0; k < kCells.size(); ++k) {
    const PlanResult r = solved(c, kCells[k]);
    INFO(kCells[k] << ": " << r.message);
    REQUIRE(r.converged());
    flow[k] = r.passages[0].flow;
    const double apart = flow[k] / r.network_vents[0].outflow - 1.0;
    std::printf("passage, %.1f mm: flow %+.3f %% of the network's\n", 1e3 * kCells[k], 100.0 * apart);
    CHECK(std::abs(apart) < 0.01);
  }
  std::printf("passage: observed order %.2f\n", observed_order(flow[0], flow[1], flow[2]));
  CHECK(std::abs(flow[2] - flow[1]) < 0.8 * std::abs(flow[1] - flow[0]));
  CHECK(std::abs(flow[3] - flow[2]) < 0.8 * std::abs(flow[2] - flow[1]));
}

TEST_CASE("the pressure in a gap converges to the lubrication solution at second order", "[cells]") {
  // As in layer_gap_test.cpp: -laplace p = 12 mu w/h^3 on a square, p = 0 along its rim; at the middle of the
  // square the sine series sums to 0.0736713 (derived).
  constexpr double kMiddle = 0.0736713, side = 0.064, gap = 1e-3;
  geometry::Case c = box({side, side, 0.06});
  c.device.vents = {vent("base", Face::base, {0.5 * side, 0.5 * side, 0.0}, side, side),
                    vent("fan-vent", Face::top, {0.5 * side, 0.5 * side, 0.06}, 0.05, 0.05)};
  cover_with_foam(2e-13, &c.device.vents[0]);
  c.device.vents[1].behind = {geometry::PlaceKind::fan_inlet, 0};
  c.device.fans = {fan_into_zone(1, 20.0, 4e-5)};
  geometry::Support table;
  table.kind = geometry::SupportKind::hard;
  table.gap_given = true;
  table.gap = gap;
  c.supports = {table};
  double middle[3];
  for (std::size_t k = 0; k < 3; ++k) {
    const PlanResult r = solved(c, kCells[k]);
    INFO(kCells[k] << ": " << r.message);
    REQUIRE(r.converged());
    const LayerFields& layer = r.layers.at(1);
    const int n = layer.pressure.nx() / 2;
    const double velocity = r.vents[0].outflow / (r.ambient_density * side * side);
    const double scale =
        12.0 * physics::viscosity(r.ambient_temperature) * velocity * side * side / (gap * gap * gap);
    // Linear from the two cells beside the middle, of which all four are alike, is off by the curvature: -p''
    // is a half on each axis, so the middle lies dx^2/8 of that above them.
    const double h = layer.x[1] - layer.x[0];
    middle[k] = layer.pressure(n, n) / scale + h * h / (8.0 * side * side);
    std::printf("gap, %.1f mm: pressure in the middle %.6f, by the series %.6f\n", 1e3 * kCells[k], middle[k],
                kMiddle);
  }
  const double order = observed_order(middle[0], middle[1], middle[2]);
  std::printf("gap: observed order %.2f\n", order);
  CHECK(order > 1.5);
  CHECK(middle[2] == Approx(kMiddle).epsilon(2e-3));
}

TEST_CASE("the through-flow of the demo run cold is the network's on every size of cells", "[cells]") {
  const geometry::Case c = tuft::test::case_named("slim-notebook");
  const geometry::Condition& cold =
      c.conditions[static_cast<std::size_t>(tuft::test::condition_named(c, "bench-cold"))];
  LayerBoundaryData given;
  given.fan_speeds = {20.0, 0.0};
  PlanOptions options;
  for (const double cell : kCells) {
    options.cell = cell;
    const PlanResult r = solve_plan(c, cold, given, options);
    INFO(cell << ": " << r.message);
    REQUIRE(r.converged());
    double network = 0.0;
    for (const VentFlows& v : r.network_vents) network += v.inflow;
    const double apart = r.through_flow / network - 1.0;
    std::printf("slim-notebook, bench-cold, %.1f mm: through-flow %+.3f %% of the network's\n", 1e3 * cell,
                100.0 * apart);
    CHECK(std::abs(apart) < 1e-3);
  }
}
