// Streamlines as a VTK file, in the layers and in a section alike.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "geometry/device/device.hpp"
#include "tools/io/field_lines.hpp"

namespace tuft::output {

/// Where a point of a line lies in the world [m], +Z up.
using LinePlace = std::function<geometry::Vec3(const FlowLine&, const FlowLine::Point&)>;

/// Writes lines with speed [m/s] and temperature [K] at their points and with what they begin and end at, and
/// the layer each runs in where `layers` is set. Throws as the other VTK writers do.
void write_lines(const std::string& path, const geometry::Device& device, const std::vector<FlowLine>& lines,
                 const LinePlace& place, bool layers);

}  // namespace tuft::output
