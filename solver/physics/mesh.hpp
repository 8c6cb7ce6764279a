// Woven wire mesh.
#pragma once

#include "solver/physics/cover.hpp"

namespace tuft::physics {

/// Round-wire screen in a duct, on the face velocity: K = beta(Re) (1 - f^2)/f^2, Re = rho w s / mu on the
/// approach velocity w and the clear gap s. beta is tabulated by Blevins, "Applied Fluid Dynamics Handbook",
/// 1984, for Re 20..400 (as transcribed in python3-fluids); beta = 0.502 + 17.25 / Re meets every entry
/// within 5 % (worst at Re 40: -5 %), and turns the law into a viscous and an inertial part. Below Re 20 the
/// first term carries on as creeping flow; above 400 beta stays near 0.5. The transcription does not say
/// whether Re is on the approach or the through velocity; approach is our reading, the other would lower the
/// viscous part by the factor f. open_ratio (0, 1]; gap > 0 [m].
FaceLaw mesh_screen(double open_ratio, double gap);

/// The mesh as the cover of an opening in the chassis wall (see `cover_in_wall`). Thickness of the wall [m].
FaceLaw mesh(double open_ratio, double gap, double thickness, const Opening& face);

}  // namespace tuft::physics
