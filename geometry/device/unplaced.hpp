// What lies somewhere inside a device, nobody said where.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/device.hpp"

namespace tuft::geometry {

/// Fans, fins and sources that heat the air of one zone (of several, no place could be said), of which nobody
/// said where they are, as key paths ("fans.main").
std::vector<std::string> unplaced_things(const Device& device);

}  // namespace tuft::geometry
