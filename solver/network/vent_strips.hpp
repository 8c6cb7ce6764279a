// A single vent before layered air, in level strips (docs/theory.md, N9).
#pragma once

#include <vector>

#include "geometry/device/device.hpp"

namespace tuft::network {

using geometry::Vec3;

/// A strip across a vent, level but for how the vent leans.
struct VentStrip {
  Vec3 centre = Vec3::Zero();                        ///< [m]
  double share = 1.0;                                ///< of the vent's area [-]
  Vec3 along = Vec3::Zero(), across = Vec3::Zero();  ///< its sides, down the vent and level [m]
};

/// Level strips of equal height, whichever way the vent is turned in its face; of a level vent, along its
/// longer side. `gravity` [m/s2] in the device's frame; none without it.
std::vector<VentStrip> level_strips(const geometry::Vent& vent, const Vec3& gravity);

/// Share of layers that the way a vent in strips lies leaves [-]: 1 where it stands or looks down, little
/// where it looks up and heavy air falls through it and stirs the room. `gravity` is not zero.
double standing_share(const geometry::Vent& vent, const Vec3& gravity);

}  // namespace tuft::network
