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

Audit audit(const Graph& graph, const State& state);

}  // namespace tuft::network
