#include "solver/flow2d/section_mouth_cells.hpp"

#include <cmath>

namespace tuft::section {
namespace {

using geometry::Face;
using geometry::Vent;

class Finder {
 public:
  Finder(const Scene& scene, const Model& model)
      : scene_(scene), model_(model), grid_(model.problem.grid), nx_(grid_.nx()), ny_(grid_.ny()) {}

  /// First layer of the chassis' cells behind the vent, where there is air before it.
  std::vector<MouthCell> behind_face(const Vent& vent) const {
    const FaceInPlane face = face_in_plane(vent.face, scene_.plane());
    const int across = face.axis, line = 1 - across;
    const field::Axis& deep = grid_.axis(across);
    const field::Axis& wide = grid_.axis(line);
    const Span body = scene_.chassis(across);
    const double edge = face.high ? body.high : body.low;
    int layer = 0;  // of the chassis' cells, the one beside the face
    for (int k = 0; k < deep.n(); ++k) {
      const double centre = deep.centres()[static_cast<std::size_t>(k)];
      if (!body.holds(centre)) continue;
      layer = k;
      if (!face.high) break;
    }
    if (std::abs(deep.faces()[static_cast<std::size_t>(face.high ? layer + 1 : layer)] - edge) > 1e-9)
      return {};
    const Span span = span_along(vent, line == 0 ? scene_.plane().first() : scene_.plane().second());
    std::vector<MouthCell> cells, middle;
    for (int k = 0; k < wide.n(); ++k) {
      const auto K = static_cast<std::size_t>(k);
      MouthCell cell{across == 0 ? layer : k, across == 0 ? k : layer, wide.widths()[K]};
      const int step = face.high ? 1 : -1;
      const int oi = cell.i + (across == 0 ? step : 0), oj = cell.j + (across == 1 ? step : 0);
      if (!scene_.chassis(line).holds(wide.centres()[K]) || !is_air(oi, oj) || !is_body(cell.i, cell.j))
        continue;
      if (span.holds(wide.centres()[K])) cells.push_back(cell);
      if (wide.faces()[K] <= span.middle() && wide.faces()[K + 1] > span.middle()) middle.push_back(cell);
    }
    return cells.empty() ? middle : cells;
  }

  /// The corner of the chassis that the hinge slot cuts off at 45 degrees.
  std::vector<MouthCell> behind_slot(const Vent& vent) const {
    const Span a = scene_.chassis(0), b = scene_.chassis(1);
    const double leg = vent.height * std::sqrt(0.5);
    std::vector<MouthCell> cells;
    MouthCell corner;
    double nearest = 1e300;
    for (int j = 0; j < ny_; ++j)
      for (int i = 0; i < nx_; ++i) {
        const double x = grid_.x.centres()[static_cast<std::size_t>(i)];
        const double y = grid_.y.centres()[static_cast<std::size_t>(j)];
        if (!a.holds(x) || !b.holds(y) || !is_body(i, j)) continue;
        const double depth = (a.high - x) + (b.high - y);
        const MouthCell cell{i, j,
                             std::sqrt(grid_.x.widths()[static_cast<std::size_t>(i)] *
                                       grid_.y.widths()[static_cast<std::size_t>(j)])};
        if (depth < leg) cells.push_back(cell);
        if (depth < nearest) {
          nearest = depth;
          corner = cell;
        }
      }
    if (nearest > leg + corner.width) return {};
    if (!is_air(corner.i + 1, corner.j) && !is_air(corner.i, corner.j + 1)) return {};
    return cells.empty() ? std::vector<MouthCell>{corner} : cells;
  }

 private:
  bool is_air(int i, int j) const {
    return i >= 0 && j >= 0 && i < nx_ && j < ny_ && model_.part(i, j) == static_cast<int>(Part::air);
  }
  bool is_body(int i, int j) const { return model_.part(i, j) == static_cast<int>(Part::chassis); }

  const Scene& scene_;
  const Model& model_;
  const field::Grid& grid_;
  int nx_, ny_;
};

}  // namespace

std::vector<MouthCell> mouth_cells(const Scene& scene, const Model& model, const Vent& vent) {
  const Finder finder(scene, model);
  return vent.face == Face::hinge ? finder.behind_slot(vent) : finder.behind_face(vent);
}

double length_in_plane(const Vent& vent, const Plane& plane) {
  if (vent.face == Face::hinge) return vent.height;
  const int along = 1 - face_in_plane(vent.face, plane).axis;
  return span_along(vent, along == 0 ? plane.first() : plane.second()).length();
}

std::vector<double> shares_of(const Vent& vent, const std::vector<MouthCell>& cells) {
  std::vector<double> shares;
  double sum = 0.0;
  for (const MouthCell& c : cells) {
    shares.push_back(vent.face == Face::hinge ? c.width * c.width : c.width);
    sum += shares.back();
  }
  for (double& s : shares) s /= sum;
  return shares;
}

}  // namespace tuft::section
