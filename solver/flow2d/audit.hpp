// Do mass and heat balance?
#pragma once

#include "solver/flow2d/residual.hpp"

namespace tuft::field {

/// The books of a state. Flows count + into the grid.
struct Audit {
  double mass_in = 0.0, mass_out = 0.0;  ///< through rims and sources, both >= 0 [kg/s]
  double heat_in = 0.0, heat_out = 0.0;  ///< through rims and sources, against T_ref, both >= 0 [W]
  /// Sum of every cell's left-over mass over the through-flow; in a closed body, over the circulating flow
  /// [-].
  double mass = 0.0;
  double energy = 0.0;        ///< net heat over the heat passing through [-]
  double energy_cells = 0.0;  ///< sum of every cell's left-over heat over the same [-]
};

/// `left_over` is what `residual` gave for the state last evaluated.
Audit audit(const Residual& residual, const State& left_over);

}  // namespace tuft::field
