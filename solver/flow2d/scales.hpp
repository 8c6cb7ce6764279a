// Typical sizes of a problem: what residuals and steps are measured against.
#pragma once

#include "solver/flow2d/problem.hpp"
#include "solver/flow2d/state.hpp"

namespace tuft::field {

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

}  // namespace tuft::field
