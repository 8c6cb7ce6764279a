// The air of the side it comes from is what passes an opening (theory.md, E2).
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/network/solve.hpp"

using namespace tuft;
using network::Graph;
using network::Vec3;

namespace {

constexpr double kBoxTemperature = 333.15, kRoomTemperature = 293.15;

// Two viscous openings one above the other, the law stated from an onset that the flow is far beyond or
// never reaches.
Graph viscous_stack(double below, double above, double onset) {
  Graph graph;
  graph.ambient.temperature = kRoomTemperature;
  graph.ambient.gravity = physics::standard_gravity * Vec3(0.0, 0.0, -1.0);
  network::Node box;
  box.name = "box";
  graph.nodes.push_back(box);
  for (const double z : {0.0, 0.2}) {
    network::Opening opening;
    opening.name = z > 0.0 ? "above" : "below";
    opening.a = 0;
    opening.area = 1e-3;
    opening.law = {z > 0.0 ? above : below, 0.0, 0.0, 0.0, onset};
    opening.centre = {0.0, 0.0, z};
    graph.openings.push_back(opening);
  }
  return graph;
}

double stack_flow(const Graph& graph) {
  network::Solver solver(graph);
  network::State start = solver.state();
  start.temperature.setConstant(kBoxTemperature);
  network::Options frozen;
  frozen.frozen_temperature = true;
  REQUIRE(solver.solve_from(start, frozen).converged());
  return solver.state().flow[1];  // out above
}

double stack_head(const Graph& graph) {
  return physics::standard_gravity * 0.2 *
         (physics::density(graph.ambient.state, kRoomTemperature) -
          physics::density(graph.ambient.state, kBoxTemperature));
}

double kinematic_viscosity(const Graph& graph, double temperature) {
  return physics::viscosity(temperature) / physics::density(graph.ambient.state, temperature);
}

}  // namespace

// m/A = dp/(V_below nu_outside + V_above nu_inside): cold air is drawn, warm air let out (derived).
TEST_CASE("what is drawn has the room's viscosity, what leaves the box's: 20 and 60 degrees") {
  for (const double ratio : {0.01, 1.0, 100.0}) {
    const double below = 2e5, above = below * ratio;
    const Graph graph = viscous_stack(below, above, 1e-6);
    const double expected = 1e-3 * stack_head(graph) /
                            (below * kinematic_viscosity(graph, kRoomTemperature) +
                             above * kinematic_viscosity(graph, kBoxTemperature));
    CHECK(stack_flow(graph) == Approx(expected).epsilon(1e-4));
  }
}

TEST_CASE("air that hardly moves has the mean of both sides") {
  const Graph graph = viscous_stack(2e5, 2e7, 1e9);
  const double mean =
      0.5 * (kinematic_viscosity(graph, kRoomTemperature) + kinematic_viscosity(graph, kBoxTemperature));
  CHECK(stack_flow(graph) == Approx(1e-3 * stack_head(graph) / (2.02e7 * mean)).epsilon(1e-6));
}

TEST_CASE("the law has one slope through rest, whichever side the air comes from") {
  const physics::FaceLaw law{1e5, 2.0, 1.5, 0.5, 1e4};
  const physics::SideState warm{1.06, 2.0e-5}, cold{1.2, 1.8e-5};
  const physics::FluxLaw flux = physics::flux_law(law, warm, cold);
  CHECK(flux.forward.alpha == Approx(flux.backward.alpha).epsilon(1e-15));
  const double j = 1e-4;  // a thousandth of the onset's
  CHECK(physics::strip_slope(flux.forward, j) ==
        Approx(physics::strip_slope(flux.backward, j)).epsilon(1e-6));
  // Far beyond it they differ as the sides do.
  const double viscous_only = 100.0;
  physics::FluxLaw slow = physics::flux_law({1e5, 0.0, 0.0, 0.0, 1e4}, warm, cold);
  CHECK(physics::strip_slope(slow.forward, viscous_only) /
            physics::strip_slope(slow.backward, viscous_only) ==
        Approx((warm.viscosity / warm.density) / (cold.viscosity / cold.density)).epsilon(1e-3));
}
