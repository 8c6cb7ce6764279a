#include "geometry/casefile/boxes.hpp"

#include <algorithm>

namespace tuft::casefile {

using geometry::Device;
using geometry::Face;
using geometry::Vec3;
using geometry::Zone;

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
  int best = 0;
  for (std::size_t i = 1; i < device.zones.size(); ++i) {
    const double distance = distance_to(device.zones[i], point);
    const double least = distance_to(device.zones[best], point);
    if (distance < least - kSameLength) best = static_cast<int>(i);
  }
  return best;
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
