// Which zones share their air, by passages, fans and fins: air does not pass between the others inside the
// device.
#pragma once

#include <vector>

#include "geometry/device/device.hpp"

namespace tuft::network {

/// A number for each zone, the same for zones that share their air, and one for each fan: that of the zones
/// it draws from or blows into, -1 for a fan that serves none.
struct SharedAir {
  std::vector<int> of_zone, of_fan;
};
SharedAir shared_air(const geometry::Device& device);

}  // namespace tuft::network
