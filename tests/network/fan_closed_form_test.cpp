// Fans in networks against hand calculation.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/solve.hpp"

using namespace tuft;
using network::Graph;
using network::kOutside;

namespace {

constexpr double kInertial = 1.4;

// p = 100 (1 - Q/Q1) Pa, a straight curve.
physics::FanCurve straight_fan(double free_delivery) {
  return physics::FanCurve::from_points({{0.0, 100.0}, {free_delivery, 0.0}}, 80.0);
}

network::Node node(const std::string& name) {
  network::Node n;
  n.name = name;
  return n;
}

network::Opening hole(int a, int b, double area) {
  network::Opening opening;
  opening.name = "hole " + std::to_string(a) + std::to_string(b);
  opening.a = a;
  opening.b = b;
  opening.area = area;
  opening.law = {0.0, kInertial};
  opening.law.viscous = 1e-9;
  return opening;
}

Graph isothermal() {
  Graph graph;
  graph.ambient.temperature = 293.15;
  graph.ambient.state = {101325.0, 0.0};
  return graph;
}

double ambient_density(const Graph& graph) {
  return physics::density(graph.ambient.state, graph.ambient.temperature);
}

network::State solve(const Graph& graph) {
  network::Solver solver(graph);
  const network::Summary summary = solver.solve();
  INFO(summary.message);
  REQUIRE(summary.converged());
  return solver.state();
}

}  // namespace

TEST_CASE("operating point of one fan against one hole, by the quadratic's root") {
  // 100 r (1 - Q/Q1) = k Q^2, r the density ratio, k = c rho / A^2.
  Graph graph = isothermal();
  graph.nodes.push_back(node("box"));
  const double area = 3e-4, free = 3e-3;
  graph.openings.push_back(hole(0, kOutside, area));
  graph.fans.push_back({"fan", kOutside, 0, straight_fan(free), 80.0, {0, 0, 0}});
  const double rho = ambient_density(graph);
  const double shut = 100.0 * rho / 1.204;
  const double k = kInertial * rho / (area * area);
  const double slope = shut / free;
  const double flow = (-slope + std::sqrt(slope * slope + 4.0 * k * shut)) / (2.0 * k);
  const network::State x = solve(graph);
  CHECK(x.flow[1] / rho == Approx(flow).epsilon(1e-9));
  CHECK(x.pressure[0] == Approx(k * flow * flow).epsilon(1e-9));
}

TEST_CASE("two equal fans: in series pressures add, in parallel flows add") {
  const double area = 3e-4, free = 3e-3;
  Graph series = isothermal();
  series.nodes = {node("between"), node("box")};
  series.openings.push_back(hole(1, kOutside, area));
  series.fans.push_back({"one", kOutside, 0, straight_fan(free), 80.0, {0, 0, 0}});
  series.fans.push_back({"two", 0, 1, straight_fan(free), 80.0, {0, 0, 0}});
  const double rho = ambient_density(series);
  const double shut = 100.0 * rho / 1.204, k = kInertial * rho / (area * area);
  const auto root = [&](double p, double s) { return (-s + std::sqrt(s * s + 4.0 * k * p)) / (2.0 * k); };
  const network::State s = solve(series);
  CHECK(s.flow[0] / rho == Approx(root(2.0 * shut, 2.0 * shut / free)).epsilon(1e-9));
  CHECK(s.pressure[0] == Approx(0.5 * s.pressure[1]).epsilon(1e-9));

  Graph parallel = isothermal();
  parallel.nodes = {node("box")};
  parallel.openings.push_back(hole(0, kOutside, area));
  parallel.fans.push_back({"one", kOutside, 0, straight_fan(free), 80.0, {0, 0, 0}});
  parallel.fans.push_back({"two", kOutside, 0, straight_fan(free), 80.0, {0, 0, 0}});
  const network::State p = solve(parallel);
  CHECK(p.flow[0] / rho == Approx(root(shut, shut / (2.0 * free))).epsilon(1e-9));
  CHECK(p.flow[1] == Approx(p.flow[2]).epsilon(1e-12));
}

TEST_CASE("with one of two parallel fans failed, air runs back through the still one") {
  Graph graph = isothermal();
  graph.nodes = {node("box")};
  graph.openings.push_back(hole(0, kOutside, 2e-4));
  graph.fans.push_back({"runs", kOutside, 0, straight_fan(3e-3), 80.0, {0, 0, 0}});
  graph.fans.push_back({"failed", kOutside, 0, straight_fan(3e-3), 0.0, {0, 0, 0}});
  const network::State x = solve(graph);
  const double rho = ambient_density(graph);
  CHECK(x.flow[1] > 0.0);
  CHECK(x.flow[2] < 0.0);
  // Still rotor: dp = (rho/rho0) k Q^2 with k = shut-off pressure / free delivery squared.
  const double back = -x.flow[2] / rho;
  CHECK(x.pressure[0] == Approx(rho / 1.204 * 100.0 / (3e-3 * 3e-3) * back * back).epsilon(1e-9));
}

TEST_CASE("half the speed gives half the flow against a quadratic resistance, a quarter of the pressure") {
  Graph graph = isothermal();
  graph.nodes = {node("box")};
  graph.openings.push_back(hole(0, kOutside, 2e-4));
  graph.fans.push_back({"fan", kOutside, 0, straight_fan(3e-3), 80.0, {0, 0, 0}});
  const network::State full = solve(graph);
  graph.fans[0].speed = 40.0;
  const network::State half = solve(graph);
  CHECK(half.flow[0] == Approx(0.5 * full.flow[0]).epsilon(1e-6));
  CHECK(half.pressure[0] == Approx(0.25 * full.pressure[0]).epsilon(1e-6));
}

TEST_CASE("a fan that blows into a shut box moves nothing and builds its shut-off pressure") {
  Graph graph = isothermal();
  graph.nodes = {node("box")};
  graph.fans.push_back({"fan", kOutside, 0, straight_fan(3e-3), 80.0, {0, 0, 0}});
  const network::State x = solve(graph);
  CHECK(x.flow[0] == Approx(0.0).margin(1e-15));
  CHECK(x.pressure[0] == Approx(100.0 * ambient_density(graph) / 1.204).epsilon(1e-9));
}

TEST_CASE("heat balance of a ventilated box by hand") {
  Graph graph = isothermal();
  graph.nodes = {node("box")};
  graph.nodes[0].power = 15.0;
  graph.openings.push_back(hole(0, kOutside, 2e-4));
  graph.fans.push_back({"fan", kOutside, 0, straight_fan(3e-3), 80.0, {0, 0, 0}});
  network::Solver solver(graph);
  REQUIRE(solver.solve().converged());
  const double flow = solver.state().flow[0];
  const double rise = 15.0 / (flow * solver.equations().heat_capacity() + solver.equations().conductance(0));
  CHECK(solver.state().temperature[0] - 293.15 == Approx(rise).epsilon(1e-9));
}
