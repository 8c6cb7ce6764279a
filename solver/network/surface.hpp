// A surface that lies close to a face of the device: table, bedding, wall, closed lid.
#pragma once

#include <optional>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/physics/face_law.hpp"

namespace tuft::network {

/// The surface, and the gap between it and the face.
struct Surface {
  geometry::Face face = geometry::Face::base;
  geometry::Vec3 anchor = geometry::Vec3::Zero();  ///< where the gap is `gap` [m]
  double gap = 0.0;                                ///< [m], may be negative where a soft surface is pushed in
  geometry::Vec3 gradient = geometry::Vec3::Zero();  ///< of the gap over the device frame [-]
  double covered = 0.0;                              ///< share of each vent's area that is pressed shut [-]
  bool breathes = false;                             ///< air can be drawn through it, by `fabric`
  physics::FaceLaw fabric;
  double thickness = 0.0;   ///< of the layer air is drawn through [m]
  double resistance = 1.0;  ///< times what the ways through the gap resist by their law [-]

  /// Gap at a point of the face [m], not below 0.
  double gap_at(const geometry::Vec3& point) const;
};

/// The surface the device rests on (or hangs against), or nothing: held in the air, or in a pose in which no
/// face looks down to within 45 degrees. A face other than the base has no feet and keeps only the gap of
/// unevenness; where the device is tipped on an edge the gap opens like a wedge from its lowest corner.
std::optional<Surface> resting_surface(const geometry::Device& device, const geometry::Pose& pose,
                                       const geometry::Support& support);

/// The lid over the top face when it is closed to within 10 degrees; else nothing.
std::optional<Surface> closed_lid(const geometry::Device& device, double lid_angle);

/// Angle of the lid in a condition [rad].
double lid_angle(const geometry::Device& device, const geometry::Condition& condition);

/// What lies close to the faces of a device in a condition.
struct Surroundings {
  std::optional<Surface> resting, lid;

  /// The surface before a face, or none: what the device rests on before the closed lid.
  const Surface* before(geometry::Face face) const {
    if (resting && resting->face == face) return &*resting;
    return lid && lid->face == face ? &*lid : nullptr;
  }
};
Surroundings surroundings_of(const geometry::Case& content, const geometry::Condition& condition);

/// One way from a vent to the edge of its face, or to another vent, through the gap.
struct GapWay {
  geometry::Vec3 end = geometry::Vec3::Zero();      ///< middle of the far mouth [m]
  geometry::Vec3 span = geometry::Vec3::Zero();     ///< side vector of the far mouth [m]
  geometry::Vec3 outward = geometry::Vec3::Zero();  ///< to an edge: unit vector out of the gap; else zero
  physics::FaceLaw law;
  double area = 0.0;    ///< the law is stated on [m2]
  double height = 0.0;  ///< of the gap, on which its Reynolds number is taken [m]; 0: no gap
};

/// The ways from a vent on the surface's face to the four edges of that face; ways narrower than 10 um are
/// shut.
std::vector<GapWay> ways_to_edges(const geometry::Device& device, const Surface& surface,
                                  const geometry::Vent& vent);

/// The way through the gap between two vents of the same face, or nothing where it is shut.
std::optional<GapWay> way_between(const Surface& surface, const geometry::Vent& from,
                                  const geometry::Vent& to);

}  // namespace tuft::network
