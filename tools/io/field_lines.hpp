// Streamlines of the plan layers.
#pragma once

#include <vector>

#include "geometry/device/device.hpp"
#include "solver/flow2d/layer_result.hpp"

namespace tuft::io {

/// Where a streamline begins or ends.
enum class LineEnd {
  vent,       ///< air comes in or goes out there
  fan,        ///< a fan's mouth
  passage,    ///< to or from another zone
  rim,        ///< the open edge of a gap, or a fabric it breathes through
  still_air,  ///< too slow to follow
  wall        ///< cut at a wall that the interpolation would have crossed
};

/// The word for an end in files.
const char* line_end_word(LineEnd end);

/// A path of the air in one layer, in the direction of the flow, in the plane of the layer.
struct FlowLine {
  struct Point {
    double x = 0.0, y = 0.0;   ///< device frame [m]
    double speed = 0.0;        ///< [m/s]
    double temperature = 0.0;  ///< of the cell [K]
  };
  int layer = 0;
  std::vector<Point> points;  ///< at least two
  LineEnd begins = LineEnd::still_air, ends = LineEnd::still_air;
  int from_vent = -1, to_vent = -1;  ///< index into Device::vents where it begins or ends at one
};

/// What a cell of a layer gives to or takes from other spaces.
struct CellEnd {
  LineEnd kind = LineEnd::still_air;
  int vent = -1;
  double gives = 0.0;  ///< into the layer, net [kg/s]; < 0: takes out of it
};

/// Ends of one layer's streamlines: vents, fans and passages on its cells, x fastest.
std::vector<std::vector<CellEnd>> ends_of_layer(const geometry::Device& device,
                                                const flow2d::PlanResult& plan, int layer, double cell);

/// Streamlines of one layer or slice, on any rectangular grid; `number` is put into FlowLine::layer.
/// `device`: whose vents stand in the edge of the layer; null where none do.
std::vector<FlowLine> lines_of_layer(const geometry::Device* device, const flow2d::LayerFields& layer,
                                     const std::vector<std::vector<CellEnd>>& ends, int number);

/// Streamlines of all layers: from the cells of every vent, forward where it gives and backward where it
/// takes, and through a regular grid of places. Velocities come from the cells' faces; walls hold the air
/// still, so that no line crosses one. The same fields give the same lines.
std::vector<FlowLine> flow_lines(const geometry::Device& device, const flow2d::PlanResult& plan, double cell);

/// Streamlines thinned for the eye: each kept when enough of it keeps `apart` [m] from those before it, the
/// longest first. A line that goes round in an eddy ends where it begins to follow itself.
std::vector<FlowLine> thinned(const std::vector<FlowLine>& lines, double apart);

/// The line up to where it comes back to within about half of `apart` [m] of its own way and stays there.
FlowLine without_repeats(const FlowLine& line, double apart);

}  // namespace tuft::io
