// What cells exchange with spaces beyond the layer: given sources and vents.
#pragma once

#include <array>

#include "solver/flow2d/problem.hpp"
#include "solver/flow2d/state.hpp"

namespace tuft::field {

/// Mass flow through a vent and its slope.
struct VentFlow {
  double mass = 0.0;         ///< into the cell [kg/s]
  double slope = 0.0;        ///< d mass / d (p_out - p') [kg/(s Pa)], > 0
  double temperature = 0.0;  ///< of the air that passes [K]
};

/// Flow through a vent of a cell at pressure p' and temperature (F16). Continuous through rest, also in its
/// slope but for the density of the two sides and
/// for `approach`.
VentFlow vent_flow(const Fluid& fluid, const CellVent& vent, double pressure, double temperature);

/// Exchange of all cells.
struct Exchange {
  Array2 mass;  ///< net, into the cell [kg/s]
  Array2 out;  ///< the part that leaves, <= 0 [kg/s]: it takes the layer's momentum along; what enters brings
               ///< none but `brought`
  Array2 heat;  ///< brought in, against T_ref [W]
  /// Momentum along the axes that sources and vents bring into a cell [N]; empty where none does.
  std::array<Array2, 2> brought{};
};

/// Whether a source or a vent of the problem brings momentum.
bool brings_momentum(const Problem& problem);

/// Fills `exchange` (shaped beforehand) for a state; `volume` are the cells' volumes [m3].
void set_exchange(const Problem& problem, const Array2& volume, const State& state, Exchange* exchange);

}  // namespace tuft::field
