// Fixed blades.
#pragma once

#include "solver/physics/cover.hpp"

namespace tuft::physics {

/// Fixed slanted blades, in a duct, on the face velocity. WEAK: handbooks put 45 degree blades of 50-60 %
/// free area at K 1.5..4 (Idelchik, sect. 8, from memory). We take 0.9 times the thick-plate formula, which
/// is 2.7 at 55 %, so half to one and a half times the result is the honest spread. Viscous part: friction
/// between blades `gap` apart over `depth`, lengthened by the slant (sqrt 2). gap > 0, depth >= 0 [m].
FaceLaw louvre_blades(double open_ratio, double gap, double depth);

/// The blades as the cover of an opening in the chassis wall (see `cover_in_wall`).
FaceLaw louvre(double open_ratio, double gap, double depth, const Opening& face);

}  // namespace tuft::physics
