// What the cells of a raster belong to: grid, zones, fin stacks. For raster.cpp.
#pragma once

#include "geometry/device/raster.hpp"

namespace tuft::geometry {

/// The device's grid with zones and fin stacks in their cells, and nothing that opens into them. Throws as
/// rasterise().
Raster raster_of_parts(const Device& device, double cell);

}  // namespace tuft::geometry
