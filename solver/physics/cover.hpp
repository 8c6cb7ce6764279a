// A cover (grille, mesh, foam) in an opening of the chassis wall: what the opening itself adds.
#pragma once

#include "solver/physics/ends.hpp"
#include "solver/physics/sharp_opening.hpp"

namespace tuft::physics {

/// A cover's own loss as it would be in a duct of the face's size, set into an opening of the wall between a
/// large room and a chassis; all on the face velocity, for either direction of flow.
///
/// In a duct the air comes and leaves at the face velocity. In a wall it first gathers into the face (entry)
/// and then throws its face velocity away (exit), so K = K_cover + entry 0.49 + exit 1.0. Without any cover
/// the stream contracts behind the edge and K is that of the bare hole, 1/Cd^2 = 2.69 in a thin wall. A cover
/// spreads the stream over the face and so takes this excess E away; we let it go as E exp(-K_cover / 2E)
/// (judgement: half gone at K_cover = 1.7, nine tenths at 5.5), which makes the sum rise
/// steadily with K_cover from exactly the bare hole. Viscous terms add.
FaceLaw cover_in_wall(const FaceLaw& cover, const Opening& face, double thickness);

}  // namespace tuft::physics
