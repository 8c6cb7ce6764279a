// A sheet with round holes.
#pragma once

#include "solver/physics/cover.hpp"

namespace tuft::physics {

/// Loss coefficient [-] on the approach velocity of a thin perforated plate or square-edged screen in a duct
/// at high Reynolds number. Blevins, "Applied Fluid Dynamics Handbook", 1984, table for open ratios 0.1..0.9
/// as transcribed in python3-fluids, interpolated monotonically in the logarithm. Below the table it goes on
/// as the widening behind free jets, (1/(0.611 f) - 1)^2, to infinity at 0; above it as ((1 - f)/f)^2 to 0 at
/// 1; both scaled to meet the table. 0 < open_ratio <= 1.
double thin_plate_loss(double open_ratio);

/// The same for a sheet much thicker than its holes: (0.5 (1 - f) + 1 - f^2) / f^2, Blevins 1984 as
/// transcribed in python3-fluids (hole diameter < thickness < 50 diameters), wall friction apart.
double thick_plate_loss(double open_ratio);

/// Perforated sheet in a duct, on the face velocity.
///   inertial: thin and thick plate, weighted by `free_jet_share` of thickness over hole.
///   viscous:  Sampson's hole weakened by its neighbours, (1 - f^1.5) (their pressure fields fall as 1/r^3;
///             coefficient a judgement that makes it vanish at f = 1), plus friction in the holes, over f.
///             Beyond f = 0.9 (closest packing of circles 0.907) the webs break up: friction fades linearly.
/// open_ratio (0, 1]; hole diameter > 0, thickness >= 0 [m].
FaceLaw perforated_sheet(double open_ratio, double hole, double thickness);

/// Perforated sheet as the cover of an opening in the chassis wall (see `cover_in_wall`); at open_ratio 1
/// exactly the bare opening. Losses fall monotonically with the open ratio.
FaceLaw perforated(double open_ratio, double hole, double thickness, const Opening& face);

}  // namespace tuft::physics
