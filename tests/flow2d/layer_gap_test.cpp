// The gap under a plate, and how the grid refines.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "solver/physics/air.hpp"
#include "tests/flow2d/layer_support.hpp"

using namespace tuft;
using namespace tuft::flow2d;
using namespace tuft::flow2d::test;
using geometry::Face;

namespace {

constexpr double kPi = 3.14159265358979323846;

/// A square box whose whole base is foam, standing a millimetre off a table; a fan presses air through it.
geometry::Case plate(double side, double gap, double permeability) {
  geometry::Case c = box({side, side, 0.06});
  c.device.vents = {vent("base", Face::base, {0.5 * side, 0.5 * side, 0.0}, side, side),
                    vent("fan-vent", Face::top, {0.5 * side, 0.5 * side, 0.06}, 0.05, 0.05)};
  cover_with_foam(permeability, &c.device.vents[0]);
  c.device.vents[1].behind = {geometry::PlaceKind::fan_inlet, 0};
  c.device.fans = {fan_into_zone(1, 20.0, 4e-5)};
  geometry::Support table;
  table.kind = geometry::SupportKind::hard;
  table.gap_given = true;
  table.gap = gap;
  c.supports = {table};
  return c;
}

const LayerFields& gap_of(const PlanResult& r) {
  REQUIRE(r.layers.size() == 2);
  REQUIRE(r.layers[1].name == "gap-base");
  return r.layers[1];
}

/// p at a place of a square of side 1 with -laplace p = 1 and p = 0 on its rim: the sine series.
double poisson_square(double x, double y) {
  double sum = 0.0;
  for (int m = 1; m < 80; m += 2)
    for (int n = 1; n < 80; n += 2)
      sum += 16.0 / (kPi * kPi * m * n) * std::sin(m * kPi * x) * std::sin(n * kPi * y) /
             (kPi * kPi * (m * m + n * n));
  return sum;
}

double observed_order(double coarse, double middle, double fine) {
  return std::log2(std::abs(coarse - middle) / std::abs(middle - fine));
}

}  // namespace

TEST_CASE("the gap under a plate has the pressure of the lubrication solution", "[published]") {
  // Air let evenly into the gap obeys Reynolds' equation, div(h^3 / 12 mu grad p) = -w, here with p = 0 along
  // the rim of a square: p = 12 mu w L^2 / h^3 times the solution for the unit square (sine series, derived).
  // So dense a foam lets the same air through everywhere; the flow creeps (Re h / L of a few hundredths).
  const double side = 0.12, gap = 1e-3;
  double last = 0.0;
  for (const int n : {8, 16, 32}) {
    const PlanResult r = solved(plate(side, gap, 2e-13), side / n);
    INFO(r.message);
    REQUIRE(r.converged());
    const double velocity = r.vents[0].outflow / (r.ambient_density * side * side);
    const LayerFields& layer = gap_of(r);
    const double x = (n / 2 + 0.5) / n;
    const double scale =
        12.0 * physics::viscosity(r.ambient_temperature) * velocity * side * side / (gap * gap * gap);
    const double exact = scale * poisson_square(x, x);
    const double error = std::abs(layer.pressure(n / 2, n / 2) / exact - 1.0);
    std::printf("gap under a plate, %2d cells: pressure off by %.3e\n", n, error);
    CHECK(error < 1.5 / (n * n) + 2e-3);
    last = error;
  }
  CHECK(last < 4e-3);
}

TEST_CASE("creeping flow: the vents' flows converge at second order", "[order]") {
  // Central differences of pressure and friction, exact overlap of vents with cells: nothing in a creeping
  // gap is of first order. Two vents share the fan's air, one through the gap, so that the gap decides the
  // share.
  geometry::Case c = plate(0.128, 6e-4, 1e-10);
  c.device.fans = {fan_into_zone(1, 1.0, 4e-5)};
  c.device.vents.push_back(vent("top", Face::top, {0.064, 0.064, 0.06}, 0.02, 0.002));
  cover_with_foam(1e-10, &c.device.vents[2]);
  double flow[4];
  for (int k = 0; k < 4; ++k) {
    const PlanResult r = solved(c, 0.128 / (8 << k));
    INFO(r.message);
    REQUIRE(r.converged());
    flow[k] = r.vents[0].outflow;
  }
  const double first = observed_order(flow[0], flow[1], flow[2]),
               second = observed_order(flow[1], flow[2], flow[3]);
  std::printf("creeping: flow under the base %.6e %.6e %.6e %.6e, order %.2f %.2f\n", flow[0], flow[1],
              flow[2], flow[3], first, second);
  CHECK(second > 1.7);
  CHECK(second < 2.4);
}

TEST_CASE("with inertia the vents' flows converge at first order", "[order]") {
  // Upwind convection, and the width of a fan's mouth to within a cell, are of first order.
  geometry::Case c = box({0.128, 0.128, 0.032});
  c.device.vents = {vent("base", Face::base, {0.064, 0.064, 0.0}, 0.064, 0.064),
                    vent("top", Face::top, {0.064, 0.064, 0.032}, 0.032, 0.032),
                    vent("outlet", Face::rear, {0.064, 0.128, 0.016}, 0.032, 0.016)};
  geometry::Fan fan = fan_into_zone(2, 40.0, 2e-3);
  fan.draws_from = {geometry::PlaceKind::zone, 0};
  fan.blows_into = {geometry::PlaceKind::vent, 2};
  fan.centre = {0.064, 0.096, 0.016};
  c.device.vents[2].behind = {geometry::PlaceKind::fan_outlet, 0};
  c.device.fans = {fan};
  geometry::Support table;
  table.kind = geometry::SupportKind::hard;
  table.gap_given = true;
  table.gap = 2e-3;
  c.supports = {table};
  double flow[4];
  for (int k = 0; k < 4; ++k) {
    const PlanResult r = solved(c, 0.128 / (8 << k));
    INFO(r.message);
    REQUIRE(r.converged());
    flow[k] = r.vents[0].inflow;
  }
  const double first = observed_order(flow[0], flow[1], flow[2]),
               second = observed_order(flow[1], flow[2], flow[3]);
  std::printf("inertial: flow under the base %.6e %.6e %.6e %.6e, order %.2f %.2f\n", flow[0], flow[1],
              flow[2], flow[3], first, second);
  CHECK(second > 0.7);
  CHECK(second < 2.4);
}

TEST_CASE("with inertia and limited convection the vents' flows converge faster than at first order",
          "[order]") {
  // All inertia is in the gap here, whose flow is spread by the plate: no fan's mouth, whose width is a whole
  // number of cells, lies in it. Upwind beside it shows what the scheme is worth.
  geometry::Case c = plate(0.128, 1.5e-3, 1e-10);
  c.device.fans = {fan_into_zone(1, 40.0, 4e-3)};
  c.device.vents.push_back(vent("top", Face::top, {0.064, 0.064, 0.06}, 0.02, 0.02));
  cover_with_foam(1e-10, &c.device.vents[2]);
  double order[2] = {0.0, 0.0}, finest[2] = {0.0, 0.0};
  for (const int limited : {0, 1}) {
    double flow[4];
    for (int k = 0; k < 4; ++k) {
      PlanOptions options;
      options.cell = 0.128 / (8 << k);
      options.scheme = limited == 1 ? flow2d::Convection::limited : flow2d::Convection::upwind;
      const PlanResult r = solve_plan(c, c.conditions[0], {}, options);
      INFO(r.message);
      REQUIRE(r.converged());
      REQUIRE(r.first_order == (limited == 0));
      flow[k] = r.vents[0].outflow;
    }
    order[limited] = observed_order(flow[1], flow[2], flow[3]);
    finest[limited] = flow[3];
    std::printf("inertia in the gap, %s: flow under the base %.6e %.6e %.6e %.6e, order %.2f %.2f\n",
                limited == 1 ? "limited" : "upwind", flow[0], flow[1], flow[2], flow[3],
                observed_order(flow[0], flow[1], flow[2]), order[limited]);
  }
  CHECK(order[1] > 1.4);
  CHECK(finest[1] == Approx(finest[0]).epsilon(0.01));
}
