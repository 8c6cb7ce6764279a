// Air that climbs along a warm upright wall: a device stood on edge, a leg, a body.
#pragma once

#include "solver/physics/air.hpp"

namespace tuft::instruments {

/// Laminar layer along a wall of one temperature, and the room.
struct WarmWall {
  double wall = 0.0;     ///< [K]; colder than the room: the air sinks, the same with the other sign
  double room = 293.15;  ///< [K]
  double along = 1.0;    ///< component of gravity along the wall over g, 0 < it <= 1 (upright 1)
  air::AirState air;
};

/// The layer at a length x [m] > 0 from the edge where it starts.
struct WallLayer {
  double thickness = 0.0;   ///< delta [m], where speed and warmth end in this approximation
  double peak_speed = 0.0;  ///< at delta/3 [m/s], >= 0
  double flow = 0.0;        ///< volume flow per width [m2/s]
  double nusselt = 0.0;     ///< local, 2 x/delta; the mean is 4/3 of it

  /// Speed [m/s] at a distance from the wall [m].
  double speed(double distance) const;
  /// Share of the wall's excess temperature at a distance from it.
  double warmth(double distance) const;
};

/// Integral solution with u = u1 (y/d)(1 - y/d)^2 and T = (1 - y/d)^2 (docs/theory.md, I8; derived from the
/// balances of momentum and heat, after Squire and Eckert):
///
///     u1 = a x^(1/2), d = b x^(1/4),  a^2 = (80/3) g beta dT/(Pr + 20/21),  b^2 = 80 alpha/a
///
/// u_max = 4/27 u1, flow u1 d/12. Properties at the mean temperature. Its Nusselt number is that of Churchill
/// & Chu's laminar law within 6 % at Pr 0.7 for Ra 1e5 .. 1e9. Throws for what is not positive or along
/// outside (0, 1].
WallLayer wall_layer(const WarmWall& wall, double length);

}  // namespace tuft::instruments
