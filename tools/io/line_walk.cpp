#include "tools/io/line_layer.hpp"

namespace tuft::io {
namespace {

// Whether air can go from a cell to another, not far away.
bool passes(const LineLayer& view, int i, int j, int to_i, int to_j) {
  if (view.is_solid(to_i, to_j)) return false;
  while (i != to_i || j != to_j) {
    // One step at a time, along x first where that is open.
    const int step_i = to_i > i ? 1 : to_i < i ? -1 : 0, step_j = to_j > j ? 1 : to_j < j ? -1 : 0;
    if (step_i != 0 && view.corners.open_x(step_i > 0 ? i + 1 : i, j) != 0) {
      i += step_i;
    } else if (step_j != 0 && view.corners.open_y(i, step_j > 0 ? j + 1 : j) != 0) {
      j += step_j;
    } else {
      return false;
    }
  }
  return true;
}

// What leaves (forward) or comes to a cell through its faces [kg/s].
double through_faces(const LineLayer& view, int i, int j, bool forward) {
  const double thick = view.layer.density(i, j) * view.layer.depth(i, j);
  double sum = 0.0;
  const auto add = [&](double outward, double length) {
    const double counted = forward ? outward : -outward;
    if (counted > 0.0) sum += counted * length;
  };
  add(-view.layer.u_face(i, j), flow2d::side(view.layer.y, j));
  add(view.layer.u_face(i + 1, j), flow2d::side(view.layer.y, j));
  add(-view.layer.v_face(i, j), flow2d::side(view.layer.x, i));
  add(view.layer.v_face(i, j + 1), flow2d::side(view.layer.x, i));
  return thick * sum;
}

// Whether an open face of this cell was shut in the layer itself: that of a vent in the edge.
bool has_edge_face(const LineLayer& view, int i, int j) {
  return (view.corners.open_x(i, j) != 0 && view.layer.u_face(i, j) == 0.0) ||
         (view.corners.open_x(i + 1, j) != 0 && view.layer.u_face(i + 1, j) == 0.0) ||
         (view.corners.open_y(i, j) != 0 && view.layer.v_face(i, j) == 0.0) ||
         (view.corners.open_y(i, j + 1) != 0 && view.layer.v_face(i, j + 1) == 0.0);
}

// True where more of the air in a cell leaves the layer (forward; backward: comes into it) there than goes
// on to the next cells.
bool swallowed(const LineLayer& view, int i, int j, bool forward, LineWalk& walk) {
  walk.end = LineEnd::still_air;
  walk.vent = -1;
  const CellEnd* most = nullptr;
  double sum = 0.0;
  for (const CellEnd& end : view.ends(i, j)) {
    const double own = forward ? -end.gives : end.gives;
    if (!(own > 0.0)) continue;
    sum += own;
    if (most == nullptr || own > (forward ? -most->gives : most->gives)) most = &end;
  }
  // A vent in the edge is left by its own face: the line goes on to it.
  if (most == nullptr || sum < through_faces(view, i, j, forward)) return false;
  if (most->kind == LineEnd::vent && has_edge_face(view, i, j)) {
    walk.end = LineEnd::vent;
    walk.vent = most->vent;
    return false;
  }
  walk.end = most->kind;
  walk.vent = most->vent;
  return true;
}

}  // namespace

LineWalk walked(const LineLayer& view, const std::vector<FlowLine::Point>& points, bool forward) {
  LineWalk walk;
  walk.points.push_back(points.front());
  int i = view.column(points.front().x), j = view.row(points.front().y);
  for (std::size_t k = 1; k < points.size(); ++k) {
    const int to_i = view.column(points[k].x), to_j = view.row(points[k].y);
    if (!passes(view, i, j, to_i, to_j)) {
      if (walk.end != LineEnd::vent) walk.end = LineEnd::wall;
      return walk;
    }
    walk.points.push_back(points[k]);
    i = to_i;
    j = to_j;
    if (swallowed(view, i, j, forward, walk)) return walk;
  }
  end_in_cell(view, i, j, forward, walk);
  return walk;
}

void end_in_cell(const LineLayer& view, int i, int j, bool forward, LineWalk& walk) {
  for (const CellEnd& end : view.ends(i, j)) {
    if ((forward ? -end.gives : end.gives) <= 0.0) continue;
    walk.end = end.kind;
    walk.vent = end.vent;
    return;
  }
  const bool rim = (i == 0 && view.corners.open_x(0, j) != 0) ||
                   (i == view.nx - 1 && view.corners.open_x(view.nx, j) != 0) ||
                   (j == 0 && view.corners.open_y(i, 0) != 0) ||
                   (j == view.ny - 1 && view.corners.open_y(i, view.ny) != 0);
  walk.vent = -1;
  walk.end = rim ? LineEnd::rim : LineEnd::still_air;
}

}  // namespace tuft::io
