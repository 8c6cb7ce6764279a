// A comb of parallel slots.
#pragma once

#include "solver/physics/cover.hpp"

namespace tuft::physics {

/// Creeping flow through a thin plate with parallel slots of width s at pitch s/f: viscous coefficient [1/m]
/// on the face velocity, 4 pi f / (s (-ln cos(pi f/2))). Exact; derived in
/// slot_comb.cpp (the result is Hasimoto's, J. Phys. Soc. Japan 13 (1958) 633, from memory). Tends to the
/// single slot for small f and to 0 for f = 1.
double slot_grating_creep(double open_ratio, double slot);

/// Comb of slots in a duct, on the face velocity. inertial: as a perforated sheet, a slot's jet contracting
/// to the same 0.611; viscous: the grating above plus plane Poiseuille friction over the thickness, both
/// fading linearly beyond an open ratio of 0.9, where webs stop being webs.
FaceLaw slot_sheet(double open_ratio, double slot, double thickness);

/// The comb as the cover of an opening in the chassis wall (see `cover_in_wall`).
FaceLaw slot_comb(double open_ratio, double slot, double thickness, const Opening& face);

}  // namespace tuft::physics
