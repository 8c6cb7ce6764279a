#include "geometry/casefile/boxes.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::casefile {

using geometry::Device;
using geometry::Face;
using geometry::Vec3;
using geometry::Zone;

namespace {

using Corners = std::vector<Eigen::Vector2d>;

// Corners of a rectangle in the coordinates of its face, in turn.
Corners corners_on_face(const Rectangle& rectangle) {
  Vec3 first, second, u, v;
  geometry::face_axes(rectangle.face, first, second);
  geometry::side_axes(rectangle.face, rectangle.turned, u, v);
  const auto flat = [&](const Vec3& at) { return Eigen::Vector2d(first.dot(at), second.dot(at)); };
  const Eigen::Vector2d at = flat(rectangle.centre), a = 0.5 * rectangle.width * flat(u),
                        b = 0.5 * rectangle.height * flat(v);
  return {at - a - b, at + a - b, at + a + b, at - a + b};
}

double cross(const Eigen::Vector2d& a, const Eigen::Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }

// The part of a polygon to the left of the line from one point to another.
Corners left_of(const Corners& polygon, const Eigen::Vector2d& from, const Eigen::Vector2d& to) {
  Corners kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Eigen::Vector2d &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    const double at_p = cross(to - from, p - from), at_q = cross(to - from, q - from);
    if (at_p >= 0.0) kept.push_back(p);
    if ((at_p < 0.0) != (at_q < 0.0)) kept.emplace_back(p + at_p / (at_p - at_q) * (q - p));
  }
  return kept;
}

// One rectangle cut by the four sides of the other.
double common_area_turned(const Rectangle& a, const Rectangle& b) {
  Corners rest = corners_on_face(a);
  const Corners sides = corners_on_face(b);
  for (std::size_t i = 0; i < sides.size(); ++i)
    rest = left_of(rest, sides[i], sides[(i + 1) % sides.size()]);
  double twice = 0.0;
  for (std::size_t i = 0; i < rest.size(); ++i) twice += cross(rest[i], rest[(i + 1) % rest.size()]);
  return 0.5 * std::abs(twice);
}

}  // namespace

double distance_to(const Zone& zone, const Vec3& point) {
  const Vec3 outside = ((point - zone.centre).cwiseAbs() - 0.5 * zone.size).cwiseMax(0.0);
  return outside.norm();
}

bool inside_chassis(const Device& device, const Vec3& point) {
  return point.minCoeff() >= -kSameLength && (device.size - point).minCoeff() >= -kSameLength;
}

double outer_surface(const Device& device, const Zone& zone) {
  double area = 0.0;
  for (int axis = 0; axis < 3; ++axis) {
    const double side = zone.size[(axis + 1) % 3] * zone.size[(axis + 2) % 3];
    const double low = zone.centre[axis] - 0.5 * zone.size[axis];
    const double high = zone.centre[axis] + 0.5 * zone.size[axis];
    // A box drawn to the inside of the wall counts as touching it.
    constexpr double wall = 3e-3;
    if (low <= wall) area += side;
    if (high >= device.size[axis] - wall) area += side;
  }
  return area;
}

double common_volume(const Zone& a, const Zone& b) {
  const Vec3 low = (a.centre - 0.5 * a.size).cwiseMax(b.centre - 0.5 * b.size);
  const Vec3 high = (a.centre + 0.5 * a.size).cwiseMin(b.centre + 0.5 * b.size);
  return (high - low).cwiseMax(0.0).prod();
}

std::vector<int> zones_behind(const Device& device, Face face, const Vec3& point) {
  constexpr double step = 0.5e-3;
  constexpr double reach = 5e-3;
  for (double depth = step; depth <= reach + kSameLength; depth += step) {
    const Vec3 inside = point - depth * geometry::face_normal(face);
    std::vector<int> found;
    for (std::size_t i = 0; i < device.zones.size(); ++i)
      if (distance_to(device.zones[i], inside) <= kSameLength) found.push_back(static_cast<int>(i));
    if (!found.empty()) return found;
  }
  return {};
}

int nearest_zone(const Device& device, const Vec3& point) {
  double least = HUGE_VAL;
  for (const geometry::Zone& zone : device.zones) least = std::min(least, distance_to(zone, point));
  int best = -1;
  for (std::size_t i = 0; i < device.zones.size(); ++i) {
    const geometry::Zone& zone = device.zones[i];
    if (distance_to(zone, point) > least + kSameLength) continue;
    if (best < 0 || zone.name < device.zones[static_cast<std::size_t>(best)].name) best = static_cast<int>(i);
  }
  return std::max(best, 0);
}

Eigen::Vector2d face_size(const Vec3& size, Face face) {
  if (face == Face::hinge) return {size.x(), 0.0};
  Vec3 first, second;
  geometry::face_axes(face, first, second);
  return {size.dot(first), size.dot(second)};
}

Eigen::Vector2d on_face_coordinates(const Rectangle& rectangle) {
  if (rectangle.face == Face::hinge) return {rectangle.centre.x(), 0.0};
  Vec3 first, second;
  geometry::face_axes(rectangle.face, first, second);
  return {rectangle.centre.dot(first), rectangle.centre.dot(second)};
}

double common_area(const Rectangle& a, const Rectangle& b) {
  if (a.face != b.face) return 0.0;
  if ((a.turned != 0.0 || b.turned != 0.0) && a.face != Face::hinge) return common_area_turned(a, b);
  const auto overlap = [](double at, double size, double other_at, double other_size) {
    const double low = std::max(at - 0.5 * size, other_at - 0.5 * other_size);
    const double high = std::min(at + 0.5 * size, other_at + 0.5 * other_size);
    return std::max(0.0, high - low);
  };
  const Eigen::Vector2d p = on_face_coordinates(a);
  const Eigen::Vector2d q = on_face_coordinates(b);
  return overlap(p.x(), a.width, q.x(), b.width) * overlap(p.y(), a.height, q.y(), b.height);
}

}  // namespace tuft::casefile
