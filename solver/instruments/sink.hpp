// Air drawn towards an intake.
#pragma once

#include "solver/instruments/face.hpp"

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

/// How an opening sits for the hood formulas.
enum class HoodEdge {
  Plain,   ///< a free duct end
  Flanged  ///< in a plane
};

/// Centreline speed [m/s] at a distance [m] > 0 before an opening of an area [m2] after Dalla Valle J.M.
/// (1952), as transcribed in ACGIH, "Industrial Ventilation", 24th ed. (2001): Q = V (10 X^2 + A), flanged Q
/// = 0.75 V (10 X^2 + A). For aspects of 5 : 1 and rounder. Nozzle measurements found large errors, so it is
/// good to some +-30 % (docs/theory.md, I2). For comparison; `sink_velocity` is what the program uses.
double hood_speed(HoodEdge edge, double flow, double area, double distance);

/// The same for a slot of a length [m] (aspect beyond 5 : 1): Q = 3.7 L V X, flanged Q = 2.6 L V X; same
/// source.
double slot_hood_speed(HoodEdge edge, double flow, double length, double distance);

}  // namespace tuft::instruments
