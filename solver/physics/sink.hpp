// Air drawn towards an intake.
#pragma once

#include "solver/physics/face.hpp"

namespace tuft::instruments {

/// Velocity [m/s] of still room air drawn by a volume flow [m3/s] >= 0 into a rectangular intake in a large
/// flange, in the frame of `Face`; it points towards the intake. Exact potential flow of sinks spread evenly
/// over the rectangle (docs/theory.md, I1; derived):
///
///     u = -Q/(2 pi A) * integral over the face of R/|R|^3,
///
/// the field of a uniformly charged rectangle doubled by its image behind the flange:
///
///     z part   sum of +-atan(xi eta/(z R)) over the corners      xi = x -+ W/2, eta = y -+ H/2
///     x part   sum of +-asinh(eta/sqrt(xi^2 + z^2)), the y part likewise
///
/// On the face u_z = -Q/A, elsewhere on the flange 0. Along the rim the velocity in the plane grows as a
/// logarithm; on the rim itself it is cut off at 1e-9 of the face's size. A cover changes the flow only
/// within a few holes' width of it and does not enter. The device's face ends somewhere: where the flange is
/// no wider than the distance, the true speed is up to twice lower. Throws std::invalid_argument behind the
/// flange (z < 0), for a negative flow or for what is not finite.
Eigen::Vector3d sink_velocity(const Face& face, double flow, const Eigen::Vector3d& point);

}  // namespace tuft::instruments
