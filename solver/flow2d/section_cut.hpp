// Where vents and patches of skin lie against a plane.
#pragma once

#include "geometry/device/device.hpp"
#include "solver/flow2d/section_plane.hpp"

namespace tuft::section {

/// An interval along an axis [m].
struct Span {
  double low = 0.0, high = 0.0;
  double length() const { return high - low; }
  double middle() const { return 0.5 * (low + high); }
  bool holds(double x) const { return x >= low && x <= high; }
};

Span overlap(const Span& a, const Span& b);

/// Extent of a rectangle on a face along an axis of the device.
Span span_along(geometry::Face face, const geometry::Vec3& centre, double width, double height, int axis);
Span span_along(const geometry::Vent& vent, int axis);

/// Whether a plane across an axis can show what passes a vent: its face is not parallel to the plane, and a
/// slot at the hinge is cut across, not along.
bool can_be_cut(const geometry::Vent& vent, int normal);

/// The axis of the plane that a face (not the hinge) stands across, 0: its first, 1: its second, -1: neither;
/// and whether the face lies at the high end of it.
struct FaceInPlane {
  int axis = -1;
  bool high = false;
};
FaceInPlane face_in_plane(geometry::Face face, const Plane& plane);

}  // namespace tuft::section
