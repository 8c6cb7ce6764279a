#include "solver/flow2d/section_cut.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::section {

using geometry::Face;
using geometry::Vec3;

Span overlap(const Span& a, const Span& b) {
  const double low = std::max(a.low, b.low);
  return {low, std::max(low, std::min(a.high, b.high))};
}

Span span_along(Face face, const Vec3& centre, double width, double height, int axis) {
  Vec3 first, second;
  geometry::face_axes(face, first, second);
  const double half = 0.5 * (width * std::abs(first[axis]) + height * std::abs(second[axis]));
  return {centre[axis] - half, centre[axis] + half};
}

Span span_along(const geometry::Vent& vent, int axis) {
  return span_along(vent.face, vent.centre, vent.width, vent.height, axis);
}

bool can_be_cut(const geometry::Vent& vent, int normal) {
  if (vent.face == Face::hinge) return normal == 0;
  return std::abs(geometry::face_normal(vent.face)[normal]) < 0.5;
}

FaceInPlane face_in_plane(Face face, const Plane& plane) {
  if (face == Face::hinge) return {};
  const Vec3 out = geometry::face_normal(face);
  for (int d = 0; d < 2; ++d) {
    const double along = out[d == 0 ? plane.first() : plane.second()];
    if (std::abs(along) > 0.5) return {d, along > 0.0};
  }
  return {};
}

}  // namespace tuft::section
