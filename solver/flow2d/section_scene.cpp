#include "solver/flow2d/section_model.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::flow2d {
namespace {

using geometry::Face;
using geometry::Vec3;

constexpr double kLevel = 1e-6;       // slope of a support below which its surface is a line of the grid
constexpr double kFloorDepth = 8e-3;  // how much of a level support is shown [m]

std::optional<Screen> screen_of(const geometry::Device& device, const geometry::Condition& condition) {
  if (!device.lid.present) return std::nullopt;
  const double angle = network::lid_angle(device, condition);
  const bool shut = network::closed_lid(device, angle).has_value();
  Screen s;
  s.along = {0.0, -std::cos(angle), std::sin(angle)};
  s.back = {0.0, std::sin(angle), std::cos(angle)};
  const Vec3 hinge(0.0, device.size.y(), device.size.z());
  // The lower edge lies where the hinge slot's air meets it; a closed one lies over the keys.
  s.edge = shut ? Vec3(hinge + *device.lid.clearance * Vec3::UnitZ())
                : Vec3(hinge + *device.lid.edge_distance * geometry::face_normal(Face::hinge));
  s.length = device.size.y();
  s.thickness = kScreenThickness;
  return s;
}

constexpr int kSamples = 400;  // of the size, between two lines

class Sizes {
 public:
  Sizes(const std::vector<Line>& lines, double growth, double largest)
      : lines_(lines), growth_(growth), largest_(largest) {}
  double at(double x) const {
    double size = largest_;
    for (const Line& l : lines_) size = std::min(size, l.size + growth_ * std::abs(x - l.at));
    return size;
  }

 private:
  const std::vector<Line>& lines_;
  double growth_, largest_;
};

/// Faces between two lines: the sum of dx / size is shared out evenly.
void add_faces(const Sizes& sizes, double low, double high, std::vector<double>* faces) {
  const double step = (high - low) / kSamples;
  std::vector<double> sum(kSamples + 1, 0.0);
  for (int k = 0; k < kSamples; ++k)
    sum[static_cast<std::size_t>(k) + 1] = sum[k] + step / sizes.at(low + (k + 0.5) * step);
  // A tenth of a cell too many is no reason for one more.
  const int n = std::max(1, static_cast<int>(std::ceil(sum.back() - 0.1)));
  std::size_t at = 0;
  for (int k = 1; k < n; ++k) {
    const double wanted = sum.back() * k / n;
    while (sum[at + 1] < wanted) ++at;
    faces->push_back(low + step * (static_cast<double>(at) + (wanted - sum[at]) / (sum[at + 1] - sum[at])));
  }
  faces->push_back(high);
}

}  // namespace

Scene::Scene(const geometry::Case& content, const geometry::Condition& condition, const Plane& plane)
    : device_(content.device),
      plane_(plane),
      surface_(network::resting_surface(content.device, content.poses[condition.pose],
                                        content.supports[condition.support])),
      screen_(screen_of(content.device, condition)) {
  // A support parallel to the plane is not in it.
  if (surface_ && std::abs(geometry::face_normal(surface_->face)[plane.normal]) > 0.5) surface_.reset();
  screen_shut_ = screen_ && network::closed_lid(device_, std::atan2(screen_->along.z(), -screen_->along.y()));
}

Vec3 Scene::point(double a, double b) const {
  Vec3 p = Vec3::Zero();
  p[plane_.normal] = plane_.at;
  p[plane_.first()] = a;
  p[plane_.second()] = b;
  return p;
}

Span Scene::chassis(int axis) const {
  return {0.0, device_.size[axis == 0 ? plane_.first() : plane_.second()]};
}

bool Scene::in_support(const Vec3& p) const {
  if (!surface_) return false;
  const Vec3 out = geometry::face_normal(surface_->face);
  const Vec3 on_face = geometry::on_face(device_, surface_->face, 0.0, 0.0);
  const double distance = out.dot(p - on_face);
  return distance > surface_->gap + surface_->gradient.dot(p - surface_->anchor);
}

/// A cell belongs to the screen when its centre lies in the slab, or the slab's middle passes through it, so
/// that no air gets through a thin one.
bool Scene::in_screen(const Vec3& p, double da, double db) const {
  if (!screen_ || p.x() < 0.0 || p.x() > device_.size.x()) return false;
  const Vec3 from = p - screen_->edge;
  const double s = screen_->along.dot(from), t = screen_->back.dot(from);
  if (s < 0.0 || s > screen_->length) return false;
  if (t >= 0.0 && t <= screen_->thickness) return true;
  const double reach =
      0.5 * (std::abs(screen_->back[plane_.first()]) * da + std::abs(screen_->back[plane_.second()]) * db);
  return std::abs(t - 0.5 * screen_->thickness) <= reach;
}

Part Scene::part(double a, double b, double da, double db) const {
  if (chassis(0).holds(a) && chassis(1).holds(b)) return Part::chassis;
  const Vec3 p = point(a, b);
  if (in_screen(p, da, db)) return Part::screen;
  return in_support(p) ? Part::support : Part::air;
}

std::optional<Scene::Floor> Scene::level_floor() const {
  if (!surface_ || std::abs(surface_->gradient[plane_.first()]) > kLevel ||
      std::abs(surface_->gradient[plane_.second()]) > kLevel)
    return std::nullopt;
  const FaceInPlane face = face_in_plane(surface_->face, plane_);
  if (face.axis < 0) return std::nullopt;
  const double gap = surface_->gap + surface_->gradient.dot(point(chassis(0).middle(), chassis(1).middle()) -
                                                            surface_->anchor);
  const Span body = chassis(face.axis);
  return Floor{face.axis, face.high, face.high ? body.high + gap : body.low - gap};
}

Span Scene::extent(int axis, double margin) const {
  Span e = chassis(axis);
  if (screen_) {
    const int d = axis == 0 ? plane_.first() : plane_.second();
    const bool seen = plane_.normal != 0 || (plane_.at >= 0.0 && plane_.at <= device_.size.x());
    for (const double s : {0.0, screen_->length})
      for (const double t : {0.0, screen_->thickness}) {
        if (!seen || d == 0) continue;
        const double at = screen_->edge[d] + s * screen_->along[d] + t * screen_->back[d];
        e = {std::min(e.low, at), std::max(e.high, at)};
      }
  }
  e = {e.low - margin, e.high + margin};
  const auto floor = level_floor();
  if (floor && floor->axis == axis)
    (floor->high ? e.high : e.low) = floor->at + (floor->high ? 1 : -1) * kFloorDepth;
  return e;
}

std::vector<Line> Scene::lines(int axis, double finest, double margin, int gap_cells) const {
  const Span whole = extent(axis, margin), body = chassis(axis);
  const double open = 0.2 * margin;
  std::vector<Line> lines{{whole.low, open}, {whole.high, open}, {body.low, finest}, {body.high, finest}};
  const auto add_gap = [&](double face, double other) {
    const double gap = std::abs(other - face);
    if (gap < 0.5 * finest) return;  // too narrow to be seen: its cells would rule the cost
    const double size = std::min(finest, gap / gap_cells);
    lines.push_back({face, size});
    lines.insert(lines.begin() + 2, {other, size});
  };
  const auto floor = level_floor();
  if (floor && floor->axis == axis) {
    const double face = floor->high ? body.high : body.low;
    if ((floor->at > face) == floor->high)
      add_gap(face, floor->at);
    else
      lines.insert(lines.begin() + 2, {floor->at, finest});
  }
  if (screen_shut_ && plane_.normal != 2 && axis == 1) {
    add_gap(body.high, body.high + *device_.lid.clearance);
    lines.push_back({body.high + *device_.lid.clearance + screen_->thickness, 2.0 * finest});
  } else if (screen_ && plane_.normal == 0) {
    lines.push_back({screen_->edge[axis == 0 ? 1 : 2], finest});
  }
  // Air just inside the vents, and their ends.
  for (const geometry::Vent& v : device_.vents) {
    if (!can_be_cut(v, plane_.normal) || !span_along(v, plane_.normal).holds(plane_.at)) continue;
    const int d = axis == 0 ? plane_.first() : plane_.second();
    if (v.face == Face::hinge) {
      lines.push_back({body.high - v.height * std::sqrt(0.5), finest});
      continue;
    }
    const FaceInPlane face = face_in_plane(v.face, plane_);
    if (face.axis == axis) {
      lines.push_back({face.high ? body.high - finest : body.low + finest, finest});
    } else {
      const Span span = span_along(v, d);
      lines.push_back({span.low, finest});
      lines.push_back({span.high, finest});
    }
  }
  return lines;
}

Axis axis_through(const std::vector<Line>& lines, double growth, double largest) {
  std::vector<double> kept;
  for (const Line& l : lines) {
    const bool close =
        std::any_of(kept.begin(), kept.end(), [&](double x) { return std::abs(x - l.at) < l.size / 3; });
    if (!close) kept.push_back(l.at);
  }
  std::sort(kept.begin(), kept.end());
  const Sizes sizes(lines, growth, largest);
  std::vector<double> faces{kept.front()};
  for (std::size_t k = 1; k < kept.size(); ++k) add_faces(sizes, kept[k - 1], kept[k], &faces);
  return Axis(std::move(faces));
}

}  // namespace tuft::flow2d
