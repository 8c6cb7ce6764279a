// What the device lies on or hangs at, in the views that see it from its edge.
#include <algorithm>
#include <cmath>

#include "tools/figure/device_parts.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

using geometry::SupportKind;
using geometry::Vec3;

constexpr double kHard = 7.0, kSoft = 20.0;  // drawn thickness of a table and of a cushion [px]
constexpr double kBeyond = 16.0;             // beyond the device, to either side [px]
constexpr double kAlong = 0.999;             // cosine: a device that leans on an edge lies on no face
constexpr double kMostFeet = 26.0;           // of a gap, drawn [px]

// Unit vector on the page from the device towards its support; none where a view does not see it from its
// edge.
std::optional<Point> way_to_support(ViewKind kind, const Rest& rest, const geometry::Pose& pose) {
  const std::optional<geometry::Face> face = resting_face(rest, pose);
  if (!face) return std::nullopt;
  const ViewFrame frame = view_frame(kind);
  const Vec3 way = geometry::face_normal(*face);
  const Point on_page{way.dot(frame.right), -way.dot(frame.up)};
  if (std::max(std::abs(on_page.x), std::abs(on_page.y)) < kAlong) return std::nullopt;
  return on_page;
}

// From the chassis to what it lies on: its feet, where the base looks that way [px].
double gap_of(const View& view, const DeviceDrawing& drawing, const Point& way) {
  const Point to_base = view.direction(-Vec3::UnitZ());
  const bool on_base = way.x * to_base.x + way.y * to_base.y > 0.5;
  if (!on_base || drawing.rest.is_soft()) return 0.0;
  return std::min(kMostFeet, *drawing.device.feet * view.scale);
}

Box band_of(const View& view, const DeviceDrawing& drawing, const Point& way) {
  const double near = gap_of(view, drawing, way);
  const double far = near + (drawing.rest.is_soft() ? kSoft : kHard);
  const Box& body = view.chassis;
  if (way.y > 0.5) return {body.left - kBeyond, body.bottom + near, body.right + kBeyond, body.bottom + far};
  if (way.y < -0.5) return {body.left - kBeyond, body.top - far, body.right + kBeyond, body.top - near};
  if (way.x > 0.5) return {body.right + near, body.top - kBeyond, body.right + far, body.bottom + kBeyond};
  return {body.left - far, body.top - kBeyond, body.left - near, body.bottom + kBeyond};
}

}  // namespace

std::optional<geometry::Face> resting_face(const Rest& rest, const geometry::Pose& pose) {
  if (rest.kind == SupportKind::air) return std::nullopt;
  if (rest.kind == SupportKind::wall) return geometry::Face::base;
  for (const geometry::Face face : geometry::kFaces)
    if (face != geometry::Face::hinge && geometry::face_normal(face).dot(pose.down()) > kAlong) return face;
  return std::nullopt;
}

Point room_for_support(ViewKind kind, const DeviceDrawing& drawing) {
  constexpr double kFor = kSoft + kMostFeet;
  const auto way = way_to_support(kind, drawing.rest, drawing.pose);
  return way ? Point{kFor * way->x, kFor * way->y} : Point{};
}

Box draw_support(const View& view, const DeviceDrawing& drawing, Canvas& canvas) {
  const auto way = way_to_support(view.kind, drawing.rest, drawing.pose);
  if (!way) return {};
  const Box band = band_of(view, drawing, *way);
  const bool soft = drawing.rest.is_soft();
  canvas.svg.rect(band, {Paint::grid, Paint::zone, 1.0}, soft ? 8.0 : 1.0,
                  {{"data-support", clean(drawing.rest.name)}, {"data-view", view_word(view.kind)}});
  busy_edges(band, canvas);
  return band;
}

void name_support(const View& view, const Box& band, const DeviceDrawing& drawing, Canvas& canvas) {
  if (band.width() <= 0.0 || drawing.rest.name.empty()) return;
  constexpr double kSize = 12.0;
  Label label{{label_name(drawing.rest.name, 110.0, kSize, false)}, kSize, Paint::muted, Paint::muted, false};
  write_label(label, band, view.cell, canvas, view.chassis);
}

}  // namespace tuft::figure
