// The unknown fields on the staggered grid.
#pragma once

#include <array>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/problem.hpp"

namespace tuft::field {

/// Velocities on faces, pressure and temperature at cell centres.
struct State {
  std::array<Array2, 2> velocity;  ///< u on x-faces (nx+1 by ny), v on y-faces (nx by ny+1) [m/s]
  Array2 pressure;                 ///< p', cells [Pa]
  Array2 temperature;              ///< cells [K]

  Array2& u() { return velocity[0]; }
  Array2& v() { return velocity[1]; }
  const Array2& u() const { return velocity[0]; }
  const Array2& v() const { return velocity[1]; }
};

/// Still air at the reference temperature, with the given velocities on the rim.
State still_state(const Problem& problem);

/// Writes the given velocities (walls, inflow, solid faces) and held temperatures into a state; the solver
/// keeps them.
void impose_given_velocities(const Problem& problem, State* state);

/// A coarse solution carried to a finer grid over the same rectangle: linear interpolation of every field.
State interpolated(const Problem& from, const State& coarse, const Problem& to);

}  // namespace tuft::field
