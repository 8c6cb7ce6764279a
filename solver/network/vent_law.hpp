// The element law of a vent, a seam, a passage or a fan as a person described it.
#pragma once

#include "geometry/device.hpp"
#include "solver/elements/face_law.hpp"
#include "solver/elements/fan.hpp"

namespace tuft::network {

/// Area [m2] a vent's law is stated on: its face less what is taped over, or the seam's free area.
double vent_area(const geometry::Vent& vent);

/// Loss of a vent with its cover on its face velocity, or of a seam on the velocity in it. Nominal values.
elements::FaceLaw vent_law(const geometry::Vent& vent);

/// Curve of a fan: the given one, or that of its kind and size, with its factors.
elements::FanCurve fan_curve(const geometry::Fan& fan);

}  // namespace tuft::network
