// Air that moves at a bench without a vent: warm air that rises, the person who looks, the room.
#pragma once

#include <Eigen/Core>
#include <string>

#include "solver/physics/air.hpp"
#include "solver/physics/reading.hpp"

namespace tuft::physics {

/// A round plume seems to come from this many source widths below the source (from memory, handbooks say 1.7
/// to 2.3).
constexpr double virtual_origin_widths = 2.0;

/// Flux of buoyancy [m4/s3] of a convective heat flow P [W] into air at a temperature [K]: g P/(rho cp T),
/// 0.0276 a kilowatt at 20 C (docs/theory.md, I7; derived).
double buoyancy_flux(double heat_flow, const AirState& state, double temperature);

/// A plume where it is: speed upwards, and what makes it rise.
struct PlumeAir {
  double speed = 0.0;               ///< [m/s]
  double temperature_excess = 0.0;  ///< [K]
};

/// Plume of a point source at a height z [m] > 0 and a distance r from the axis, room at a temperature [K]:
/// w = 4.7 B^(1/3) z^(-1/3) exp(-96 r^2/z^2), g' = 11 B^(2/3) z^(-5/3) exp(-71 r^2/z^2). Rouse H., Yih C.S.,
/// Humphreys H.W. (1952) Tellus 4:201-210, from memory.
PlumeAir round_plume(double buoyancy_flux, double height, double radius, double room);

/// Plume of a line source of B [m3/s3] per length: w = 1.8 B^(1/3) exp(-32 y^2/z^2), g' = 2.6 B^(2/3)/z
/// exp(-41 y^2/z^2); same source, from memory.
PlumeAir line_plume(double buoyancy_flux, double height, double offset, double room);

/// A warm rectangular patch that faces up, or the mouth of an opening with hardly any flow of its own.
struct WarmPatch {
  double width = 0.0;      ///< [m], > 0
  double height = 0.0;     ///< [m], > 0; the other horizontal side
  double heat_flow = 0.0;  ///< to the air, by convection [W], >= 0
  double excess = 0.0;     ///< of the patch over the room [K], >= 0; with it the air's speed is limited
  double room = 293.15;    ///< [K]
  AirState air;
};

/// Air above a warm patch at a height [m] > 0 over it and at offsets [m] from its centre along its sides.
///
/// The smaller speed of the two plumes that the patch would make as a line (along its longer side) and as a
/// round source, each from `virtual_origin_widths` below (I7; joining them so is judgement), and never more
/// than air of the patch's temperature gains by rising from rest, (2 g excess/T z)^(1/2) (derived). +-30 %
/// above one source width, a factor of 2 below (judgement).
PlumeAir patch_plume(const WarmPatch& patch, double height, double along_width, double along_height);

// Air that climbs along a warm upright wall: a device stood on edge, a leg, a body.

/// Laminar layer along a wall of one temperature, and the room.
struct WarmWall {
  double wall = 0.0;     ///< [K]; colder than the room: the air sinks, the same with the other sign
  double room = 293.15;  ///< [K]
  double along = 1.0;    ///< component of gravity along the wall over g, 0 < it <= 1 (upright 1)
  AirState air;
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

// What else moves the air at a bench: the person who looks, and the room.

/// Air that is none of the device's.
struct Disturbance {
  std::string name;
  Range speed;        ///< [m/s]
  Range temperature;  ///< [K]
  std::string source;
};

/// Breath at a distance from mouth or nose [m] > 0, in a room [K], while one breathes out towards it.
///
/// A jet of the mouth's opening, 120 mm2, at the peak of a quiet breath: pi times a minute volume of 8.8 l
/// (half the time out, as a sine). Opening, volume and 34 C: manikin data tabled in a review, Indoor Air 31
/// (2021) 7-25. V = K sqrt(A) U0/x = 0.24/x, K = 5.7. Not above 1.4 m/s, the fastest that was seen of nasal
/// breath (1.3 m/s of oral breath), which reached 0.6 to 0.8 m: Tang J.W. et al. (2013) PLoS ONE 8:e59970.
/// Range: half and one and a half times, 0 below beyond 0.8 m (docs/theory.md, I14).
Disturbance breath(double distance, double room);

/// Air that a standing or sitting body drives upwards, at a distance from it [m] >= 0, in a room [K].
///
/// Next to the body up to 0.25 m/s in a layer of up to 50 mm (a public safety encyclopedia); falling off
/// outside it within another layer's width to the slow draught towards the body (0.02 m/s), both judgement.
Disturbance body_plume(double distance, double room);

/// Air rising from a hand held below, at a height over it [m] > 0, in a room [K]: the plume (`patch_plume`)
/// of 1.8 W, a hand of 0.04 m2 at 33 C losing 4 W/(m2 K) to air of 22 C, scaled with the difference
/// (judgement); 0 in a room as warm as the hand.
Disturbance hand_plume(double height, double room);

/// Draught of a room [K]: speeds [m/s] that the case says or assumes (docs/theory.md, G8), any direction.
/// Throws std::invalid_argument unless 0 <= low <= nominal <= high.
Disturbance room_draught(const Range& speed, double room);

/// How far a signal [m/s] >= 0 stands out: its speed over the disturber's. Below 1 the disturber is the
/// larger one. Judged on the upper end of the disturber's range, so that a "yes" is safe.
double signal_over(double signal, const Disturbance& disturbance);

}  // namespace tuft::physics
