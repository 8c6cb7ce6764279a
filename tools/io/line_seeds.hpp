// Where streamlines are begun. For field_lines.cpp.
#pragma once

#include <vector>

#include "tools/io/line_layer.hpp"

namespace tuft::output {

/// A place in a layer [m].
struct LineSeed {
  double x = 0.0, y = 0.0;
};

/// Cells of every vent that gives air to the layer (or takes it), thinned evenly.
std::vector<LineSeed> vent_seeds(const LineLayer& layer, bool gives);

/// A regular grid of places, without those in solids.
std::vector<LineSeed> regular_seeds(const LineLayer& layer);

}  // namespace tuft::output
