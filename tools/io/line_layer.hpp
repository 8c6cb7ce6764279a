// One layer with what its streamlines need. For line_*.cpp and field_lines.cpp.
#pragma once

#include <algorithm>
#include <vector>

#include "tools/io/field_lines.hpp"
#include "tools/io/field_velocity.hpp"

namespace tuft::output {

/// A layer, what its cells give and take, and its velocities; places in it by cell.
struct LineLayer {
  const plan::LayerFields& layer;
  const std::vector<std::vector<CellEnd>>& all_ends;  ///< one list a cell, x fastest
  CornerVelocity corners;
  int nx = layer.solid.nx(), ny = layer.solid.ny();

  const std::vector<CellEnd>& ends(int i, int j) const {
    return all_ends[static_cast<std::size_t>(j) * static_cast<std::size_t>(nx) + static_cast<std::size_t>(i)];
  }
  bool is_solid(int i, int j) const { return layer.solid(i, j) != 0; }
  static int cell_of(const std::vector<double>& faces, double at) {
    const auto next = std::upper_bound(faces.begin(), faces.end(), at);
    return std::clamp(static_cast<int>(next - faces.begin()) - 1, 0, static_cast<int>(faces.size()) - 2);
  }
  static double side(const std::vector<double>& faces, int cell) {
    return faces[static_cast<std::size_t>(cell) + 1] - faces[static_cast<std::size_t>(cell)];
  }
  int column(double x) const { return cell_of(layer.x, x); }
  int row(double y) const { return cell_of(layer.y, y); }
  double middle_x(int i) const { return layer.x[static_cast<std::size_t>(i)] + 0.5 * side(layer.x, i); }
  double middle_y(int j) const { return layer.y[static_cast<std::size_t>(j)] + 0.5 * side(layer.y, j); }
  double width() const { return layer.x.back() - layer.x.front(); }
  double height() const { return layer.y.back() - layer.y.front(); }
};

}  // namespace tuft::output
