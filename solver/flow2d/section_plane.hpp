// Where a device is cut, what is known of its vents, and how they lie against the plane.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "geometry/device/device.hpp"

namespace tuft::flow2d {

/// What is known of one vent.
struct VentBoundaryData {
  double inflow = 0.0;       ///< gross, into the device, >= 0 [kg/s]
  double outflow = 0.0;      ///< gross, out of the device, >= 0 [kg/s]
  double temperature = 0.0;  ///< of the air that leaves, or would [K]; 0: that of the room
};

/// Lists are in the device's own order; an empty one says that nothing is known.
struct SectionBoundaryData {
  std::vector<VentBoundaryData> vents;  ///< one per Device::vents, or empty: nothing passes any
  std::vector<double> skins;  ///< temperature of each of Device::skins [K]; 0, or an empty list: adiabatic
  double chassis = 0.0;       ///< temperature of the rest of the chassis [K]; 0: adiabatic
};

/// A plane across one axis of the device. Its own axes are the device's two others in the order x, y, z, so
/// that the faces of the chassis lie along the grid whatever the pose.
struct Plane {
  int normal = 0;   ///< axis of the device it is across, 0 x, 1 y, 2 z
  double at = 0.0;  ///< place on that axis [m]

  int first() const { return normal == 0 ? 1 : 0; }   ///< axis of the device along the grid's x
  int second() const { return normal == 2 ? 1 : 2; }  ///< axis of the device along the grid's y
};

/// The plane that shows most, and why it was chosen, for a person.
struct PlaneChoice {
  Plane plane;
  int outlet = -1;  ///< index into Device::vents of the outlet it was led through, -1: there is none
  int intake = -1;  ///< the nearest intake that it cuts as well, -1: there is none
  std::string why;
};

/// Through the vent that lets most air out and the nearest that draws, across x (normal to the hinge edge)
/// where that cuts an outlet and gravity lies in the plane to within 45 degrees; else across y, then z. Where
/// several cut both, an earlier one wins. Without flow: through the middle of the largest vent, else of the
/// chassis.
PlaneChoice choose_plane(const geometry::Case& content, const geometry::Condition& condition,
                         const SectionBoundaryData& given);

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

}  // namespace tuft::flow2d
