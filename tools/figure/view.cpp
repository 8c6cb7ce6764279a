#include "tools/figure/view.hpp"

#include <cmath>

#include "tools/figure/projection.hpp"

namespace tuft::figure {

using geometry::Face;
using geometry::Vec3;

ViewFrame view_frame(ViewKind kind) {
  const Vec3 x = Vec3::UnitX(), y = Vec3::UnitY(), z = Vec3::UnitZ();
  const ViewFrame frames[] = {{x, y, z}, {-x, y, -z}, {x, z, -y}, {-x, z, y}, {-y, z, -x}, {y, z, x}};
  return frames[static_cast<int>(kind)];
}

const char* view_word(ViewKind kind) {
  constexpr std::array<const char*, 6> words = {"top", "base", "front", "rear", "left", "right"};
  return words[static_cast<std::size_t>(kind)];
}

const char* view_title(ViewKind kind) {
  constexpr std::array<const char*, 6> words = {"Top", "Base", "Front", "Rear", "Left side", "Right side"};
  return words[static_cast<std::size_t>(kind)];
}

const char* view_remark(ViewKind kind) {
  constexpr std::array<const char*, 6> words = {"rear edge at the top of the drawing",
                                                "turned over sideways, rear edge still at the top",
                                                "",
                                                "",
                                                "front edge to the right",
                                                "front edge to the left"};
  return words[static_cast<std::size_t>(kind)];
}

Point View::at(const Vec3& point) const {
  const ViewFrame frame = view_frame(kind);
  const Vec3 from_middle = point - 0.5 * size;
  const Point middle = chassis.centre();
  return {middle.x + scale * from_middle.dot(frame.right), middle.y - scale * from_middle.dot(frame.up)};
}

Box View::box(const Vec3& centre, const Vec3& half_a, const Vec3& half_b) const {
  const Point middle = at(centre), a = direction(half_a), b = direction(half_b);
  const double x = scale * (std::abs(a.x) + std::abs(b.x)), y = scale * (std::abs(a.y) + std::abs(b.y));
  return {middle.x - x, middle.y - y, middle.x + x, middle.y + y};
}

Point View::direction(const Vec3& vector) const {
  const ViewFrame frame = view_frame(kind);
  return {vector.dot(frame.right), -vector.dot(frame.up)};
}

Box vent_box(const View& view, const geometry::Vent& vent) {
  Vec3 first, second;
  geometry::side_axes(vent, first, second);
  return view.box(vent.centre, 0.5 * vent.width * first, 0.5 * vent.height * second);
}

std::vector<Point> vent_rim(const View& view, const geometry::Vent& vent) {
  std::vector<Point> rim;
  for (const Vec3& corner : outline_of(vent)) rim.push_back(view.at(corner));
  return rim;
}

bool faces(ViewKind kind, Face face) {
  return geometry::face_normal(face).dot(view_frame(kind).towards) > 0.5;
}

ViewKind arrow_view(Face face) {
  return face == Face::base || face == Face::top ? ViewKind::front : ViewKind::top;
}

Gravity gravity_in(ViewKind kind, const geometry::Pose& pose) {
  const ViewFrame frame = view_frame(kind);
  const Vec3 down = pose.down();
  return {down.dot(frame.right), down.dot(frame.up), down.dot(frame.towards)};
}

}  // namespace tuft::figure
