// Is a steady state one that a device would stay in?
#pragma once

#include <string>

#include "solver/network/transient_jacobian.hpp"

namespace tuft::heat {

/// The least stable way in which a state can move.
struct Stability {
  bool stable = false;
  double growth = 0.0;     ///< largest real part of all eigenvalues [1/s]; < 0: every disturbance dies out
  double frequency = 0.0;  ///< imaginary part that goes with it [rad/s]; 0: no swinging
  std::string place;       ///< the flow or temperature that moves most in it, by the name in the graph
  bool place_is_flow = false;
  network::State mode;  ///< its shape (real part): changes of flow, pressure (left 0), temperature; the
                        ///< largest is 1 when flows are counted in the state's largest flow and temperatures
                        ///< in its largest rise over the room
};

/// Stability of the state last evaluated by `equations`, which is `x`, held temperatures staying held and
/// fans following their sensors without delay.
///
/// The linearised transient (B1) is reduced to the flows that keep every node's mass, dm = Z y with B Z = 0
/// (the pressures then drop out, as B^T is what they act through), and the temperatures that are free; the
/// eigenvalues are those of that ordinary system (B2). Throws std::invalid_argument when a free temperature
/// has no capacity. Where a flow is exactly nought the equations have corners; the slopes on one side are
/// taken.
Stability stability(const network::Equations& equations, const network::State& x);

}  // namespace tuft::heat
