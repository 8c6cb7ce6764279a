// How a device stands in the room in one condition: its pose on what it rests on, which need not be level.
#pragma once

#include "geometry/device/condition.hpp"

namespace tuft::geometry {

/// The pose of a condition, turned with its support by the support's tilt (`Tilt`, as one small rotation
/// whose vector is [x, y, 0] in the room). On a level support it is the pose itself, to the last bit. Gravity
/// and the room's air see this attitude; the gap between device and support does not, since both turn
/// together. A case without supports is level.
Pose attitude_of(const Case& content, const Condition& condition);

}  // namespace tuft::geometry
