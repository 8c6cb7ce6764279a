#include "tools/io/line_layer.hpp"

namespace tuft::io {
namespace {

class Walker {
 public:
  explicit Walker(const LineLayer& view) : view_(view) {}

  LineWalk walked(const std::vector<FlowLine::Point>& points, bool forward) const {
    LineWalk walk;
    walk.points.push_back(points.front());
    int i = view_.column(points.front().x), j = view_.row(points.front().y);
    for (std::size_t k = 1; k < points.size(); ++k) {
      const int to_i = view_.column(points[k].x), to_j = view_.row(points[k].y);
      if (!passes(i, j, to_i, to_j)) {
        if (walk.end != LineEnd::vent) walk.end = LineEnd::wall;
        return walk;
      }
      walk.points.push_back(points[k]);
      i = to_i;
      j = to_j;
      if (swallowed(i, j, forward, walk)) return walk;
    }
    at_edge(i, j, forward, walk);
    return walk;
  }

  /// The end of a line that ran out: at a vent if its cell has one, else at the open edge of the layer.
  void at_edge(int i, int j, bool forward, LineWalk& walk) const {
    for (const CellEnd& end : view_.ends(i, j)) {
      if ((forward ? -end.gives : end.gives) <= 0.0) continue;
      walk.end = end.kind;
      walk.vent = end.vent;
      return;
    }
    const bool rim = (i == 0 && view_.corners.open_x(0, j) != 0) ||
                     (i == view_.nx - 1 && view_.corners.open_x(view_.nx, j) != 0) ||
                     (j == 0 && view_.corners.open_y(i, 0) != 0) ||
                     (j == view_.ny - 1 && view_.corners.open_y(i, view_.ny) != 0);
    walk.vent = -1;
    walk.end = rim ? LineEnd::rim : LineEnd::still_air;
  }

 private:
  /// Whether air can go from a cell to another, not far away.
  bool passes(int i, int j, int to_i, int to_j) const {
    if (view_.is_solid(to_i, to_j)) return false;
    while (i != to_i || j != to_j) {
      // One step at a time, along x first where that is open.
      const int step_i = to_i > i ? 1 : to_i < i ? -1 : 0, step_j = to_j > j ? 1 : to_j < j ? -1 : 0;
      if (step_i != 0 && view_.corners.open_x(step_i > 0 ? i + 1 : i, j) != 0) {
        i += step_i;
      } else if (step_j != 0 && view_.corners.open_y(i, step_j > 0 ? j + 1 : j) != 0) {
        j += step_j;
      } else {
        return false;
      }
    }
    return true;
  }

  /// What leaves (forward) or comes to a cell through its faces [kg/s].
  double through_faces(int i, int j, bool forward) const {
    const double thick = view_.layer.density(i, j) * view_.layer.depth(i, j);
    double sum = 0.0;
    const auto add = [&](double outward, double length) {
      const double counted = forward ? outward : -outward;
      if (counted > 0.0) sum += counted * length;
    };
    add(-view_.layer.u_face(i, j), view_.side(view_.layer.y, j));
    add(view_.layer.u_face(i + 1, j), view_.side(view_.layer.y, j));
    add(-view_.layer.v_face(i, j), view_.side(view_.layer.x, i));
    add(view_.layer.v_face(i, j + 1), view_.side(view_.layer.x, i));
    return thick * sum;
  }

  /// True where more of the air in a cell leaves the layer (forward; backward: comes into it) there than goes
  /// on to the next cells.
  bool swallowed(int i, int j, bool forward, LineWalk& walk) const {
    walk.end = LineEnd::still_air;
    walk.vent = -1;
    const CellEnd* most = nullptr;
    double sum = 0.0;
    for (const CellEnd& end : view_.ends(i, j)) {
      const double own = forward ? -end.gives : end.gives;
      if (!(own > 0.0)) continue;
      sum += own;
      if (most == nullptr || own > (forward ? -most->gives : most->gives)) most = &end;
    }
    // A vent in the edge is left by its own face: the line goes on to it.
    if (most == nullptr || sum < through_faces(i, j, forward)) return false;
    if (most->kind == LineEnd::vent && has_edge_face(i, j)) {
      walk.end = LineEnd::vent;
      walk.vent = most->vent;
      return false;
    }
    walk.end = most->kind;
    walk.vent = most->vent;
    return true;
  }

  /// Whether an open face of this cell was shut in the layer itself: that of a vent in the edge.
  bool has_edge_face(int i, int j) const {
    return (view_.corners.open_x(i, j) != 0 && view_.layer.u_face(i, j) == 0.0) ||
           (view_.corners.open_x(i + 1, j) != 0 && view_.layer.u_face(i + 1, j) == 0.0) ||
           (view_.corners.open_y(i, j) != 0 && view_.layer.v_face(i, j) == 0.0) ||
           (view_.corners.open_y(i, j + 1) != 0 && view_.layer.v_face(i, j + 1) == 0.0);
  }

  const LineLayer& view_;
};

}  // namespace

LineWalk walked(const LineLayer& layer, const std::vector<FlowLine::Point>& points, bool forward) {
  return Walker(layer).walked(points, forward);
}

void end_in_cell(const LineLayer& layer, int i, int j, bool forward, LineWalk& walk) {
  Walker(layer).at_edge(i, j, forward, walk);
}

}  // namespace tuft::io
