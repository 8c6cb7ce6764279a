#include "solver/flow2d/section_plane.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "geometry/device/attitude.hpp"

namespace tuft::flow2d {
namespace {

using geometry::Device;
using geometry::Vec3;
using geometry::Vent;

constexpr double kAcross = 0.5;  // largest share of gravity squared across a plane that is chosen

/// What a vent lets out, or draws where negative [kg/s].
double outflow_of(const SectionBoundaryData& given, std::size_t v) {
  if (given.vents.empty()) return 0.0;
  return given.vents[v].outflow - given.vents[v].inflow;
}

struct Pair {
  int outlet = -1, intake = -1;
  double at = 0.0;
};

/// Distance of two vents' centres in the plane.
double distance_in_plane(const Device& device, const Plane& plane, int a, int b) {
  Vec3 d = device.vents[a].centre - device.vents[b].centre;
  d[plane.normal] = 0.0;
  return d.norm();
}

/// The largest outlet a plane across `normal` can cut, and the nearest intake that it cuts as well.
Pair best_pair(const Device& device, const SectionBoundaryData& given, int normal) {
  Pair pair;
  double most = 0.0;
  for (std::size_t v = 0; v < device.vents.size(); ++v) {
    const double out = outflow_of(given, v);
    if (device.vents[v].is_leak || !can_be_cut(device.vents[v], normal) || out <= most) continue;
    most = out;
    pair.outlet = static_cast<int>(v);
  }
  if (pair.outlet < 0) return pair;
  const Span outlet = span_along(device.vents[pair.outlet], normal);
  pair.at = outlet.middle();
  double nearest = 1e300;
  for (std::size_t v = 0; v < device.vents.size(); ++v) {
    if (device.vents[v].is_leak || !can_be_cut(device.vents[v], normal) || outflow_of(given, v) >= 0.0)
      continue;
    const Span both = overlap(outlet, span_along(device.vents[v], normal));
    if (!(both.length() > 0.0)) continue;
    const double d = distance_in_plane(device, {normal, 0.0}, pair.outlet, static_cast<int>(v));
    if (d >= nearest) continue;
    nearest = d;
    pair.intake = static_cast<int>(v);
    pair.at = both.middle();
  }
  return pair;
}

std::string place(const Plane& plane) {
  char text[48];
  std::snprintf(text, sizeof text, "%c = %.1f mm", "xyz"[plane.normal], 1e3 * plane.at);
  return text;
}

const std::string& name_of(const Device& device, int vent) { return device.vents[vent].name; }

PlaneChoice without_flow(const Device& device, int normal) {
  PlaneChoice choice;
  choice.plane = {normal, 0.5 * device.size[normal]};
  const Vent* largest = nullptr;
  for (const Vent& v : device.vents) {
    if (v.is_leak || !can_be_cut(v, normal)) continue;
    if (largest == nullptr || v.width * v.height > largest->width * largest->height) largest = &v;
  }
  if (largest != nullptr) choice.plane.at = span_along(*largest, normal).middle();
  choice.why = largest != nullptr ? "through the middle of the largest vent, " + largest->name
                                  : std::string("through the middle of the chassis");
  choice.why += ", " + place(choice.plane) + ": nothing is known to leave any vent it could cut";
  return choice;
}

}  // namespace

PlaneChoice choose_plane(const geometry::Case& content, const geometry::Condition& condition,
                         const SectionBoundaryData& given) {
  const Device& device = content.device;
  const Vec3 down = geometry::attitude_of(content, condition).down();
  int upright = -1;
  Pair best;
  int axis = -1;
  for (int normal = 0; normal < 3; ++normal) {
    if (down[normal] * down[normal] > kAcross + 1e-9) continue;
    if (upright < 0) upright = normal;
    const Pair pair = best_pair(device, given, normal);
    if (pair.outlet < 0) continue;
    const bool first = axis < 0, completes = !first && best.intake < 0 && pair.intake >= 0;
    if (!first && !completes) continue;
    best = pair;
    axis = normal;
  }
  if (axis < 0) return without_flow(device, upright);
  PlaneChoice choice;
  choice.plane = {axis, best.at};
  choice.outlet = best.outlet;
  choice.intake = best.intake;
  choice.why = place(choice.plane) + ", through " + name_of(device, best.outlet) +
               ", the largest outlet across " + "xyz"[axis];
  choice.why += best.intake >= 0
                    ? ", and " + name_of(device, best.intake) + ", the nearest intake it can cut as well"
                    : ", which cuts no intake";
  return choice;
}

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
  const Eigen::Vector2d size = geometry::extents_on_face(vent);
  return span_along(vent.face, vent.centre, size.x(), size.y(), axis);
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

}  // namespace tuft::flow2d
