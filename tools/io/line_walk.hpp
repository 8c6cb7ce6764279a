// How far a path of the air goes, and what ends it. For field_lines.cpp.
#pragma once

#include <vector>

#include "tools/io/line_layer.hpp"

namespace tuft::output {

/// A path from its seed to what ends it.
struct LineWalk {
  std::vector<FlowLine::Point> points;
  LineEnd end = LineEnd::still_air;
  int vent = -1;
};

/// Follows points until they meet a wall, or a cell where more of the air leaves the layer (backward: comes
/// into it) than goes on.
LineWalk walked(const LineLayer& layer, const std::vector<FlowLine::Point>& points, bool forward);

/// The end of a path that has run out in a cell: at a vent if the cell has one, else at the open edge of the
/// layer, else in still air.
void end_in_cell(const LineLayer& layer, int i, int j, bool forward, LineWalk& walk);

}  // namespace tuft::output
