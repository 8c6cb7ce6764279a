// Where a device is cut.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"
#include "solver/flow2d/section_given.hpp"

namespace tuft::section {

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
                         const SectionGiven& given);

}  // namespace tuft::section
