// Curves on the page: cut at a box, and freed of points that cannot be seen.
#pragma once

#include <vector>

#include "tools/figure/plane.hpp"

namespace tuft::figure {

/// The pieces of a line within a box, cut at its edges (Liang and Barsky's parametric cut, from memory). A
/// line of one point within the box gives that point.
std::vector<std::vector<Point>> clipped_line(const std::vector<Point>& line, const Box& box);

/// The part of a polygon within a box (cut at one edge after the other, after Sutherland and Hodgman, from
/// memory). May be empty.
std::vector<Point> clipped_ring(const std::vector<Point>& ring, const Box& box);

/// A line whose x never falls with at most four points in each half pixel of x (the first, lowest, highest
/// and last): looks the same, however many points there were.
std::vector<Point> thinned(const std::vector<Point>& line);

/// A line without points that leave it within `tolerance` [px] of where it was; both ends are kept. (Douglas
/// and Peucker's division at the point farthest out, from memory.)
std::vector<Point> simplified(const std::vector<Point>& line, double tolerance);

}  // namespace tuft::figure
