// The suction that a jet exerts on an opening beside it in the same wall.
#pragma once

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::physics {

/// Entrainment of a round turbulent jet: its mass flow grows per length by this times sqrt(rho M), M its
/// momentum flow; Ricou & Spalding, J. Fluid Mech. 11 (1961) 21, from memory (docs/theory.md, E21).
constexpr double kJetEntrainment = 0.282;

/// Suction [Pa] >= 0 in the plane of a wall at a distance [m] > 0 from the centre of a jet that blows out of
/// it: 1/2 rho u^2 of the air that runs along the wall to the jet,
///
///     u = 0.282 Q/(sqrt(A) 2 pi r)                                       (docs/theory.md, E21; derived)
///
/// volume_flow Q >= 0 [m3/s], free_area A > 0 [m2] of the outlet's holes, density [kg/m3]. Not nearer than
/// the radius of the area. JUDGEMENT: small jets are not turbulent at once, and a wall, a table or another
/// jet nearby changes it: from nothing to twice the value.
inline double jet_suction(double volume_flow, double free_area, double distance, double density) {
  const double radius = std::max(distance, std::sqrt(free_area / numerics::kPi));
  const double speed = kJetEntrainment * volume_flow / (std::sqrt(free_area) * 2.0 * numerics::kPi * radius);
  return 0.5 * density * speed * speed;
}

}  // namespace tuft::physics
