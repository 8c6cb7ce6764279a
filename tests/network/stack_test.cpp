// Closed forms of buoyancy: stack of two openings in every pose, neutral level, one tall opening.
#include <catch2/catch.hpp>
#include <cmath>

#include "geometry/device/pose.hpp"
#include "solver/network/solve.hpp"
#include "solver/numerics/constants.hpp"

using namespace tuft;
using network::Graph;
using network::Vec3;

namespace {

using tuft::numerics::kPi;
constexpr double kDischarge = 0.61;
const double kStackInertial = 0.5 / (kDischarge * kDischarge);

// A closed box of warm air held at a temperature (a large power through a large wall conductance does not
// serve: the temperature is frozen instead), with small openings.
Graph warm_box(const geometry::Pose& pose) {
  Graph graph;
  graph.ambient.temperature = 293.15;
  graph.ambient.gravity = physics::standard_gravity * pose.down();
  network::Node box;
  box.name = "box";
  box.reference = {0.1, 0.05, 0.01};
  graph.nodes.push_back(box);
  return graph;
}

// An opening without height of its own.
void add_point(Graph& graph, const Vec3& centre, double area, double inertial = kStackInertial) {
  network::Opening opening;
  opening.name = "opening " + std::to_string(graph.openings.size());
  opening.a = 0;
  opening.area = area;
  opening.law = {1e-6, inertial};
  opening.centre = centre;
  graph.openings.push_back(opening);
}

network::Solver solved_at(const Graph& graph, double temperature) {
  network::Solver solver(graph);
  network::State start = solver.state();
  start.temperature.setConstant(temperature);
  network::Options frozen;
  frozen.frozen_temperature = true;
  REQUIRE(solver.solve_from(start, frozen).converged());
  return solver;
}

struct Densities {
  double outside, inside;
};
Densities densities(const Graph& graph, double temperature) {
  return {physics::density(graph.ambient.state, graph.ambient.temperature),
          physics::density(graph.ambient.state, temperature)};
}

}  // namespace

// Q = Cd A sqrt(2 dp / rho) at both openings, mass balance between them: with equal areas the flow is
// m = Cd A sqrt(2 g h (rho_o - rho_i) / (1/rho_o + 1/rho_i)), in below and out above. Derived.
TEST_CASE("stack flow of two openings, turned in steps of 15 degrees about every axis") {
  const Vec3 first(0.02, 0.1, 0.004), second(0.29, 0.03, 0.014);
  const double area = 2e-4, temperature = 318.15;
  for (const Vec3& axis : {Vec3(1, 0, 0), Vec3(0, 1, 0), Vec3(0, 0, 1), Vec3(1, 2, -1)}) {
    for (int step = 0; step < 24; ++step) {
      const geometry::Pose pose = geometry::tilted("turned", axis, step * kPi / 12.0);
      Graph graph = warm_box(pose);
      add_point(graph, first, area);
      add_point(graph, second, area);
      const auto solver = solved_at(graph, temperature);
      const Densities rho = densities(graph, temperature);
      const double rise = -pose.down().dot(second - first);  // how much higher the second opening lies
      const double expected = kDischarge * area *
                              std::sqrt(2.0 * physics::standard_gravity * std::abs(rise) *
                                        (rho.outside - rho.inside) / (1.0 / rho.outside + 1.0 / rho.inside));
      INFO("axis " << axis.transpose() << " step " << step);
      // The second opening lets air out when it lies higher.
      CHECK(solver.state().flow[1] ==
            Approx(rise > 0.0 ? expected : -expected).epsilon(2e-4).margin(1e-6 * kDischarge * area));
      CHECK(solver.state().flow[0] == Approx(-solver.state().flow[1]).margin(1e-18));
    }
  }
}

TEST_CASE("stack flow of two openings in the six named poses has the sign gravity gives it") {
  const Vec3 low(0.05, 0.05, 0.0), high(0.25, 0.15, 0.02);
  for (const std::string& word : geometry::pose_words()) {
    const geometry::Pose pose = geometry::named_pose(word);
    Graph graph = warm_box(pose);
    add_point(graph, low, 1e-4);
    add_point(graph, high, 1e-4);
    const auto solver = solved_at(graph, 313.15);
    const bool second_higher = -pose.down().dot(high - low) > 0.0;
    INFO(word);
    CHECK((solver.state().flow[1] > 0.0) == second_higher);
  }
}

// h / H = 1 / (1 + (A1/A2)^2 (Ti/To)), A1 the lower opening: from the mass balance of the two orifices.
TEST_CASE("neutral level of two unequal openings", "[derived:3]") {
  for (double ratio : {0.5, 1.0, 2.0}) {
    Graph graph = warm_box(geometry::Pose{});
    const double height = 0.2, temperature = 323.15;
    add_point(graph, Vec3(0.1, 0.05, 0.0), ratio * 1e-4);
    add_point(graph, Vec3(0.1, 0.05, height), 1e-4);
    const auto solver = solved_at(graph, temperature);
    const Densities rho = densities(graph, temperature);
    // Level where the pressure inside equals that outside: P + (rho_i - rho_o)(-g)(z - z_ref) = 0.
    const double level =
        graph.nodes[0].reference.z() -
        solver.state().pressure[0] / ((rho.outside - rho.inside) * physics::standard_gravity);
    const double expected = height / (1.0 + ratio * ratio * temperature / graph.ambient.temperature);
    CHECK(level == Approx(expected).epsilon(2e-3));
  }
}

// Small-chassis sizes of the same formula, computed by hand with rho = 353/T and Cd 0.6 (derived):
// To 293.15 K, Ti 313.15 K, H 20 mm: head .01509 Pa, .0795 kg/s per m2; To 298.15 K, Ti 323.15 K, H 200 mm:
// .1797 Pa, .271 kg/s per m2.
TEST_CASE("stack flows of chassis size by hand", "[derived:2]") {
  struct Row {
    double outside, inside, height, flux;
  };
  for (const Row& row : {Row{293.15, 313.15, 0.02, 0.0795}, Row{298.15, 323.15, 0.2, 0.271}}) {
    Graph graph = warm_box(geometry::Pose{});
    graph.ambient.temperature = row.outside;
    add_point(graph, Vec3(0, 0, 0), 1e-4, 0.5 / 0.36);
    add_point(graph, Vec3(0, 0, row.height), 1e-4, 0.5 / 0.36);
    const auto solver = solved_at(graph, row.inside);
    CHECK(solver.state().flow[1] / 1e-4 == Approx(row.flux).epsilon(3e-3));
  }
}

// Each way Q = (Cd/3) W H^1.5 sqrt(g'), Brown & Solvason (1962) Int. J. Heat Mass Transfer 5:859-868 (form
// derived by integrating Cd W sqrt(2 g' z) over half the height; citation from memory).
TEST_CASE("one vertical opening exchanges as Brown and Solvason's form, upright and on its side",
          "[derived:4]") {
  const double width = 0.08, height = 0.05, temperature = 296.15;  // small difference: both densities alike
  for (const bool upright : {true, false}) {
    Graph graph = warm_box(upright ? geometry::Pose{} : geometry::named_pose("on-left-edge"));
    network::Opening opening;
    opening.name = "window";
    opening.a = 0;
    opening.area = width * height;
    opening.law = {1e-6, kStackInertial};
    opening.centre = graph.nodes[0].reference + Vec3(0, 0.3, 0);
    opening.normal = Vec3(0, 1, 0);  // stays horizontal in both poses
    opening.width = Vec3(width, 0, 0);
    opening.height = Vec3(0, 0, height);
    graph.openings.push_back(opening);
    const auto solver = solved_at(graph, temperature);
    const Densities rho = densities(graph, temperature);
    const double w = upright ? width : height, h = upright ? height : width;
    const double reduced =
        physics::standard_gravity * (rho.outside - rho.inside) / (0.5 * (rho.outside + rho.inside));
    const double each_way = kDischarge / 3.0 * w * std::pow(h, 1.5) * std::sqrt(reduced);
    const network::ElementState& at = solver.equations().element(0);
    CHECK(at.forward / rho.inside == Approx(each_way).epsilon(6e-3));
    CHECK(at.backward / rho.outside == Approx(each_way).epsilon(6e-3));
    CHECK(std::abs(solver.state().flow[0]) < 1e-12);
  }
}

// Net flow that just stops the exchange: the neutral line at the edge, Q = (2/3) Cd W H^1.5 sqrt(2 g'), 2.83
// times the exchange rate (derived).
TEST_CASE("a net flow of 2.83 times the exchange closes one direction") {
  const physics::StripLaw strip{1e-9, 0.0, kStackInertial / 1.2, 0.0, 0.0, 0.0};
  const physics::FluxLaw law{strip, strip};
  const double span = 0.01;
  const double exchange = physics::gross_flux(0.0, span, strip).flux;
  CHECK(physics::opening_at_flux(2.8285 * exchange, span, law).backward.flux == 0.0);
  CHECK(physics::opening_at_flux(2.8283 * exchange, span, law).backward.flux > 0.0);
}

TEST_CASE("without gravity, and without warmth, nothing moves") {
  geometry::Pose pose;
  for (const bool warm : {true, false}) {
    Graph graph = warm_box(pose);
    if (warm) graph.ambient.gravity.setZero();
    graph.nodes[0].power = warm ? 20.0 : 0.0;
    graph.nodes[0].wall_conductance = 0.5;
    add_point(graph, Vec3(0, 0, 0), 1e-3);
    add_point(graph, Vec3(0.3, 0.2, 0.02), 1e-3);
    graph.openings[0].width = Vec3(0.1, 0, 0);
    graph.openings[0].height = Vec3(0, 0.1, 0);
    network::Solver solver(graph);
    REQUIRE(solver.solve().converged());
    CHECK(solver.state().flow.cwiseAbs().maxCoeff() < 1e-15);
    CHECK(solver.equations().element(0).forward == Approx(0.0).margin(1e-15));
  }
}

TEST_CASE("upside down a box with openings in its upper face keeps its warmth; upright it spills") {
  // The opening lies in the top face: upright, cold air lies above warm and both change places (E4); upside
  // down the warm air is above and stays.
  for (const bool upright : {true, false}) {
    Graph graph = warm_box(upright ? geometry::Pose{} : geometry::named_pose("upside-down"));
    graph.nodes[0].power = 1.0;
    graph.nodes[0].wall_conductance = 0.05;
    network::Opening top;
    top.name = "top";
    top.a = 0;
    top.area = 4e-4;
    top.law = {100.0, kStackInertial};
    top.centre = Vec3(0.1, 0.05, 0.02);
    top.normal = Vec3(0, 0, 1);
    top.width = Vec3(0.02, 0, 0);
    top.height = Vec3(0, 0.02, 0);
    graph.openings.push_back(top);
    network::Solver solver(graph);
    REQUIRE(solver.solve().converged());
    const double rise = solver.state().temperature[0] - graph.ambient.temperature;
    if (upright) {
      CHECK(solver.equations().element(0).exchange > 1e-6);
      const double carried = solver.equations().heat_capacity() * solver.equations().element(0).exchange;
      CHECK(rise == Approx(1.0 / (0.05 + solver.equations().conductance(0) + carried)).epsilon(1e-9));
    } else {
      CHECK(solver.equations().element(0).exchange == 0.0);
      CHECK(rise == Approx(1.0 / (0.05 + solver.equations().conductance(0))).epsilon(1e-9));
    }
  }
}
