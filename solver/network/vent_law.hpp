// The element law of a vent, a seam, a passage or a fan as a person described it.
#pragma once

#include "geometry/device/device.hpp"
#include "geometry/device/laws.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/fan.hpp"

namespace tuft::network {

/// Area [m2] a vent's law is stated on: its face less what is taped over, or the seam's free area.
double vent_area(const geometry::Vent& vent);

/// Loss of a vent with its cover on its face velocity, or of a seam on the velocity in it. Nominal values.
///
/// Before a zone the cover sits in a wall: the air gathers into the face and throws its velocity head away
/// (cover_in_wall). Behind fins it comes with the face velocity and only leaves. Right at a fan neither is
/// paid here: the fan's static curve was taken with a free inlet, and counts its outlet's velocity head as
/// lost. A given loss coefficient is taken as it is. Other laws are multiplied by the factors of their kind.
physics::FaceLaw vent_law(const geometry::Vent& vent, const geometry::Laws& laws = {});

/// Share of the heads over a vent's height that drives air through it both ways under its law. Such air
/// gathers and throws its velocity head away in either direction. Where the law leaves that out, since the
/// stream from a fan or fins does not pay it there, it takes the rest of the heads, as squares (E7). 1 before
/// a zone.
double counterflow_share(const geometry::Vent& vent);

/// Curve of a fan: the given one, or that of its kind and size, with its factors and those of what a curve
/// does not tell.
physics::FanCurve fan_curve(const geometry::Fan& fan, const geometry::Laws& laws = {});

}  // namespace tuft::network
