// The air before a vent that draws, blows, or does both at once, and before several together.
#pragma once

#include <optional>
#include <vector>

#include "solver/physics/jet.hpp"

namespace tuft::physics {

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

// The air before a vent that draws, blows, or does both at once, and before several together.

/// A vent as solved, in the frame of `Face`.
struct VentFlow {
  Face face;
  double out = 0.0;                  ///< gross volume flow out [m3/s] at its own temperature, >= 0
  double in = 0.0;                   ///< gross volume flow in [m3/s] of room air, >= 0
  double out_temperature = 293.15;   ///< [K]
  double room_temperature = 293.15;  ///< [K]
  AirState air;
  Eigen::Vector3d gravity = {0.0, 0.0, 0.0};  ///< in the vent's frame [m/s2]
};

/// How a face that breathes both ways is shared between the two.
struct Split {
  double out_share = 1.0;       ///< of the face's area
  bool across_width = false;    ///< the neutral line crosses the width (else the height)
  bool out_at_positive = true;  ///< the air leaves on the side of positive x (or y)
  bool layered = false;         ///< false: no height along gravity (or one way only), nothing is shared
};

/// Where a tall opening's neutral line lies, from its gross flows: a head that changes evenly over the height
/// drives speeds that go with its root, so that flows are as heights^(3/2), and out_share = r/(1 + r) with r
/// = (out/in)^(2/3) (docs/theory.md, I9; derived). The lighter air leaves at the top; the split runs along
/// the side with more height, and not at all where the face's height along gravity is under a tenth of its
/// longer side (judgement).
Split split_of(const VentFlow& vent);

/// Air at a place.
struct AirAt {
  Eigen::Vector3d velocity = {0.0, 0.0, 0.0};  ///< [m/s]
  double temperature = 293.15;                 ///< [K]
};

/// What one vent does at a place.
struct AirParts {
  Eigen::Vector3d blown = {0.0, 0.0, 0.0};  ///< velocity it blows [m/s]
  Eigen::Vector3d drawn = {0.0, 0.0, 0.0};  ///< of room air that it or its jet draws in [m/s]
  double temperature_excess = 0.0;          ///< over the room's [K]
};

/// The air before one vent as a function of place in its frame; made once, asked often.
///
/// What is blown is a `Jet` from the upper or lower part of the face, what is drawn a `sink_velocity` into
/// the rest; jet, sideways draught into the jet and sink add up (I9; judgement, exact only far apart). Where
/// both ways pass the same place, as under heavier air, each is given the whole face: what they show there is
/// a mean of what comes and goes in turns.
class NearVent {
 public:
  /// Throws std::invalid_argument for negative flows, a wrong face or temperatures not > 0.
  explicit NearVent(const VentFlow& vent);

  /// Velocity and temperature at a point; behind the vent's plane (z < 0) still air of the room.
  AirAt at(const Eigen::Vector3d& point) const;

  /// The jet, if the vent blows.
  const Jet* jet() const { return jet_ ? &*jet_ : nullptr; }

  /// The same in its parts; z >= 0.
  AirParts parts(const Eigen::Vector3d& point) const;

  double room_temperature() const { return vent_.room_temperature; }

 private:
  VentFlow vent_;
  Face sink_face_;
  Eigen::Vector3d sink_centre_ = {0.0, 0.0, 0.0};
  Eigen::Vector3d jet_centre_ = {0.0, 0.0, 0.0};
  std::optional<Jet> jet_;
};

/// A vent set in a common frame: columns of `axes` are its x, y, z there.
struct PlacedVent {
  NearVent vent;
  Eigen::Vector3d centre = {0.0, 0.0, 0.0};
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();
};

/// The air at a point of the common frame from all vents together. Draughts into vents add as vectors
/// (potential flow, exact but for the walls); blown streams add their momentum, the sum of |u| u (Reichardt's
/// hypothesis, from memory); the temperature excess is the largest one. A vent whose plane the point lies
/// behind gives nothing. Throws std::invalid_argument unless `axes` is a rotation.
AirAt air_from(const std::vector<PlacedVent>& vents, const Eigen::Vector3d& point);

}  // namespace tuft::physics
