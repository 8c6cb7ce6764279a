// What covers an opening of the chassis wall (a grille, mesh, blades, foam, a given loss), and what the
// opening itself adds.
#pragma once

#include "solver/physics/face_law.hpp"
#include "solver/physics/openings.hpp"

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

// A sheet with round holes.

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

// Woven wire mesh.

/// Round-wire screen in a duct, on the face velocity: K = beta(Re) (1 - f^2)/f^2, Re = rho w s / mu on the
/// approach velocity w and the clear gap s. beta is tabulated by Blevins, "Applied Fluid Dynamics Handbook",
/// 1984, for Re 20..400 (as transcribed in python3-fluids); beta = 0.502 + 17.25 / Re meets every entry
/// within 5 % (worst at Re 40: -5 %), and turns the law into a viscous and an inertial part. Below Re 20 the
/// first term carries on as creeping flow; above 400 beta stays near 0.5. The transcription does not say
/// whether Re is on the approach or the through velocity; approach is our reading, the other would lower the
/// viscous part by the factor f. open_ratio (0, 1]; gap > 0 [m].
FaceLaw mesh_screen(double open_ratio, double gap);

// Fixed blades.

/// Fixed slanted blades, in a duct, on the face velocity. WEAK: handbooks put 45 degree blades of 50-60 %
/// free area at K 1.5..4 (Idelchik, sect. 8, from memory). We take 0.9 times the thick-plate formula, which
/// is 2.7 at 55 %, so half to one and a half times the result is the honest spread. Viscous part: friction
/// between blades `gap` apart over `depth`, lengthened by the slant (sqrt 2). gap > 0, depth >= 0 [m].
FaceLaw louvre_blades(double open_ratio, double gap, double depth);

// A comb of parallel slots.

/// Creeping flow through a thin plate with parallel slots of width s at pitch s/f: viscous coefficient [1/m]
/// on the face velocity, 4 pi f / (s (-ln cos(pi f/2))). Exact; derived in
/// cover.cpp (the result is Hasimoto's, J. Phys. Soc. Japan 13 (1958) 633, from memory). Tends to the
/// single slot for small f and to 0 for f = 1.
double slot_grating_creep(double open_ratio, double slot);

/// Comb of slots in a duct, on the face velocity. inertial: as a perforated sheet, a slot's jet contracting
/// to the same 0.611; viscous: the grating above plus plane Poiseuille friction over the thickness, both
/// fading linearly beyond an open ratio of 0.9, where webs stop being webs.
FaceLaw slot_sheet(double open_ratio, double slot, double thickness);

// Open-cell foam, or a layer of dust.

/// Darcy-Forchheimer layer in a duct: dp = t (mu w / k + C rho w |w|), k permeability [m2] > 0, C >= 0 [1/m],
/// thickness t [m] >= 0. (Definition of k and C; Forchheimer 1901.)
FaceLaw foam_layer(double permeability, double inertia, double thickness);

// A vent whose loss coefficient somebody has measured or read from a data sheet.

/// Loss coefficient K [-] > 0 on the face velocity, entry and exit included. Near zero flow it goes over into
/// the creeping flow through the bare opening: nothing put into an opening makes it more open than that.
FaceLaw given_loss(double loss, const Opening& face);

}  // namespace tuft::physics
