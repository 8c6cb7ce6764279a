// A free hole or slot in a wall between two large spaces.
#pragma once

#include "solver/physics/face_law.hpp"

namespace tuft::elements {

/// Discharge coefficient of a sharp-edged hole in a thin wall at high Reynolds number [-]: "sharp edge Cd
/// ~ 0.6" in ASHRAE Handbook - Fundamentals, ch. 16; 0.61 lies between that and the 0.611 of leakage ratings
/// quoted there (CGSB 149.10).
constexpr double sharp_edge_discharge = 0.61;

/// Clear rectangle of a vent or hole [m]; both > 0.
struct Opening {
  double width = 0.0;
  double height = 0.0;
  double area() const { return width * height; }
};

// Each law is stated on the mean velocity over the opening itself.
//   inertial: 0.5/Cd^2 for a thin wall, 0.5 (entry + exit) for one so thick that the jet fills the hole
//   again,
//             between them by `free_jet_share` of thickness over hydraulic diameter.
//   viscous:  creeping flow through the hole in a thin wall plus developed friction over the thickness.
// Range: any Reynolds number; exact at both ends of it. In between (Re 10 .. 1000 on the hole) the sum of the
// two terms is off by up to some 20 % (judgement from the hump in measured discharge coefficients).

/// Long slot of clear width s in a wall of thickness t [m]. Creeping limit: dp = 32 mu w / (pi s), the
/// two-dimensional Sampson flow with w(x) = dp/(4 mu) sqrt(s^2/4 - x^2) (slot_comb.cpp, f -> 0); friction 12
/// mu t w / s^2.
FaceLaw sharp_slot(double width, double thickness);

/// Rectangular hole. Creeping limit by the aspect short/long, linearly (judgement), between the slot and, for
/// a square, the round hole of its area: Sampson, Phil. Trans. R. Soc. A 182 (1891) 449, dp = 24 mu Q / d^3
/// (as quoted in a public encyclopedia), which is 6 pi mu w / d. Friction of the rectangle.
FaceLaw sharp_rectangle(const Opening& opening, double thickness);

}  // namespace tuft::elements
