// Open-cell foam, or a layer of dust.
#pragma once

#include "solver/physics/cover.hpp"

namespace tuft::physics {

/// Darcy-Forchheimer layer in a duct: dp = t (mu w / k + C rho w |w|), k permeability [m2] > 0, C >= 0 [1/m],
/// thickness t [m] >= 0. (Definition of k and C; Forchheimer 1901.)
FaceLaw foam_layer(double permeability, double inertia, double thickness);

/// The layer as the cover of an opening in the chassis wall (see `cover_in_wall`).
FaceLaw foam(double permeability, double inertia, double thickness, const Opening& face);

}  // namespace tuft::physics
