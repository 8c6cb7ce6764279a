// Lines as the shortest path data. For svg.cpp.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/plane.hpp"

namespace tuft::figure {

/// Path data of a line bent at its points, to a tenth of a pixel: from its first point straight to the middle
/// of the first stretch, then curves (quadratic, a point of the line each as control) from middle to middle,
/// straight to the end. Written as steps from place to place; roundings do not add up. Empty for less than
/// two points. Throws std::invalid_argument where a coordinate is not finite.
std::string curve_text(const std::vector<Point>& line);

}  // namespace tuft::figure
