// One layer with what its streamlines need. For field_lines.cpp and its parts.
#pragma once

#include <vector>

#include "geometry/device/device.hpp"
#include "solver/flow2d/tracks.hpp"
#include "solver/numerics/curves.hpp"
#include "tools/io/field_lines.hpp"

namespace tuft::io {

/// Velocities at the corners of the cells, (nx+1) by (ny+1), x fastest [m/s], and which faces let air pass.
struct CornerVelocity {
  flow2d::Array2 u, v;
  flow2d::Mask open_x;  ///< (nx+1) by ny: air passes the face across x
  flow2d::Mask open_y;  ///< nx by (ny+1)
};

/// From the faces of the cells: the mean of the two faces at a corner. At walls air slides along: across them
/// the corners of a face without flow have no velocity, so a bilinear field on these corners crosses no wall.
/// Vents in the edge of the chassis let air through the faces before them: `ends` says how much. Without a
/// device there are none such.
CornerVelocity corner_velocity(const geometry::Device* device, const flow2d::LayerFields& layer,
                               const std::vector<std::vector<CellEnd>>& ends);

/// A layer, what its cells give and take, and its velocities; places in it by cell.
struct LineLayer {
  const flow2d::LayerFields& layer;
  const std::vector<std::vector<CellEnd>>& all_ends;  ///< one list a cell, x fastest
  CornerVelocity corners;
  int nx = layer.solid.nx(), ny = layer.solid.ny();

  const std::vector<CellEnd>& ends(int i, int j) const {
    return all_ends[static_cast<std::size_t>(j) * static_cast<std::size_t>(nx) + static_cast<std::size_t>(i)];
  }
  bool is_solid(int i, int j) const { return layer.solid(i, j) != 0; }
  int column(double x) const { return numerics::interval_of(layer.x, x); }
  int row(double y) const { return numerics::interval_of(layer.y, y); }
  double middle_x(int i) const { return layer.x[i] + 0.5 * flow2d::side(layer.x, i); }
  double middle_y(int j) const { return layer.y[j] + 0.5 * flow2d::side(layer.y, j); }
  double width() const { return layer.x.back() - layer.x.front(); }
  double height() const { return layer.y.back() - layer.y.front(); }
};

/// A path from its seed to what ends it.
struct LineWalk {
  std::vector<FlowLine::Point> points;
  LineEnd end = LineEnd::still_air;
  int vent = -1;
};

/// Follows points until they meet a wall, or a cell where more of the air leaves the layer (backward: comes
/// into it) than goes on.
LineWalk walked(const LineLayer& view, const std::vector<FlowLine::Point>& points, bool forward);

/// The end of a path that has run out in a cell: at a vent if the cell has one, else at the open edge of the
/// layer, else in still air.
void end_in_cell(const LineLayer& view, int i, int j, bool forward, LineWalk& walk);

}  // namespace tuft::io
