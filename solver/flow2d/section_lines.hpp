// Grid lines that pass through given places and crowd where it matters.
#pragma once

#include <vector>

#include "solver/flow2d/grid.hpp"

namespace tuft::section {

/// A place a grid line has to pass through, and how small cells are to be there. Where two lie closer than a
/// third of the smaller size, the one given first stays.
struct Line {
  double at = 0.0;    ///< [m]
  double size = 0.0;  ///< of a cell beside it [m], > 0
};

/// The axis from the lowest to the highest line. The size of a cell at x is at most  size + growth |x - at|
/// for every line, and at most `largest`; between two neighbouring lines it varies smoothly and there is at
/// least one cell.
field::Axis axis_through(const std::vector<Line>& lines, double growth, double largest);

}  // namespace tuft::section
