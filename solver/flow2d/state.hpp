// The unknown fields on the staggered grid.
#pragma once

#include <array>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/problem.hpp"

namespace tuft::flow2d {

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

struct Scales {
  double length = 1.0;       ///< shorter side of the grid [m]
  double velocity = 1.0;     ///< [m/s]
  double temperature = 1.0;  ///< difference [K]
  double depth = 1.0;        ///< largest [m]

  double momentum = 1.0;  ///< rho U^2 L h + mu U h [N]
  double mass = 1.0;      ///< rho U L h [kg/s]
  double heat = 1.0;      ///< rho cp U dT L h + k dT h [W]
};

/// From what drives the problem: given velocities, pressures, forces, and buoyancy, whose velocity scale is
/// the smallest of sqrt(g beta dT L) (inertia), g beta dT L^2 / nu (shear) and g beta dT h^2 / (12 nu) (layer
/// friction). `state` raises the velocity and temperature scales to what it holds; pass nullptr to leave that
/// out.
Scales scales_of(const Problem& problem, const State* state);

}  // namespace tuft::flow2d
