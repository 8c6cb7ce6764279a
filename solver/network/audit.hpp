// Books of a solution: what goes in, comes out and is left over.
#pragma once

#include "solver/network/equations.hpp"

namespace tuft::network {

/// What is left over, relative to what goes through. Summed over the whole device from the flows at its
/// openings, not from the solver's own residuals.
struct Audit {
  double through_flow = 0.0;  ///< sum of gross inflows from outside [kg/s]
  double mass = 0.0;          ///< worst node's net flow over its gross flow, or over the through-flow [-]
  double heat_in = 0.0;       ///< sum of powers [W]
  double heat_through_walls = 0.0;  ///< to the room through walls and from outer surfaces [W]
  double heat_with_air = 0.0;       ///< enthalpy carried out, less that carried in [W]
  double energy = 0.0;              ///< |in - walls - air| over the larger of power and what moves [-]
};

/// Calls take(with_air, heat) for every way by which heat leaves to the room: through openings, through
/// walls, by links [W]. The state is the one last evaluated by `equations`.
template <typename Take>
void each_way_out(const Equations& equations, const State& state, const Take& take) {
  const Graph& graph = equations.graph();
  const double ambient = graph.ambient.temperature;
  for (int e = 0; e < equations.n_flows(); ++e) {
    const int a = equations.side_a(e), b = equations.side_b(e);
    if ((a == kOutside) == (b == kOutside)) continue;
    const ElementState& element = equations.element(e);
    const double leaving = a == kOutside ? element.backward : element.forward;
    const double kelvins = state.temperature[a == kOutside ? b : a] - ambient;
    take(true, (equations.heat_capacity() * leaving + equations.conductance(e)) * kelvins);
  }
  for (int i = 0; i < equations.n_nodes(); ++i)
    take(false, at(graph.nodes, i).wall_conductance * (state.temperature[i] - ambient));
  for (int index = 0; index < equations.n_links(); ++index) {
    const LinkState& way = equations.link(index);
    if ((way.from == kOutside) == (way.into == kOutside)) continue;
    // What comes in from outside by a flow is air that an outlet gave before.
    take(way.outlet.element >= 0, way.into == kOutside ? way.heat : -way.heat);
  }
}

Audit audit(const Graph& graph, const State& state);

}  // namespace tuft::network
