// Lines on the page: cut at a box, freed of points that cannot be seen, as path data; the outline of cells.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "tools/figure/plane.hpp"

namespace tuft::figure {

/// The pieces of a line within a box, cut at its edges (Liang and Barsky's parametric cut, from memory). A
/// line of one point within the box gives that point.
std::vector<std::vector<Point>> clipped_line(const std::vector<Point>& line, const Box& box);

/// A line whose x never falls with at most four points in each half pixel of x (the first, lowest, highest
/// and last): looks the same, however many points there were.
std::vector<Point> thinned(const std::vector<Point>& line);

/// A line without points that leave it within `tolerance` [px] of where it was; both ends are kept. (Douglas
/// and Peucker's division at the point farthest out, from memory.)
std::vector<Point> simplified(const std::vector<Point>& line, double tolerance);

/// Path data of a line bent at its points, to a tenth of a pixel: from its first point straight to the middle
/// of the first stretch, then curves (quadratic, a point of the line each as control) from middle to middle,
/// straight to the end. Written as steps from place to place; roundings do not add up. Empty for less than
/// two points. Throws std::invalid_argument where a coordinate is not finite.
std::string curve_text(const std::vector<Point>& line);

/// Corner of a grid of cells: number of the grid line across x, and across y.
using Corner = std::pair<int, int>;

/// The closed edges around the cells marked (nx by ny, x fastest): corners in order, the marked cells to the
/// left of the way when y goes up; straight stretches hold no corner between their ends. Filled by the
/// even-odd rule they give the cells. Cells that touch at a corner alone have edges of their own.
std::vector<std::vector<Corner>> cell_outlines(int nx, int ny, const std::vector<bool>& marked);

}  // namespace tuft::figure
