#include "tools/figure/bench_view.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::figure {
namespace {

using geometry::Vec3;

using base::kDegree;
constexpr double kElevation = 24.0 * kDegree;
constexpr double kInSight = 0.1;  // cosine

Slant slant_from(double azimuth, const geometry::Device& device, const geometry::Pose& pose) {
  const double c = std::cos(azimuth), s = std::sin(azimuth);
  const double ce = std::cos(kElevation), se = std::sin(kElevation);
  Slant slant;
  slant.towards = {ce * c, ce * s, se};
  slant.right = {-s, c, 0.0};
  slant.up = {-se * c, -se * s, ce};
  slant.pose = pose;
  slant.middle = 0.5 * device.size;
  return slant;
}

}  // namespace

Point Slant::direction(const Vec3& vector) const {
  const Vec3 world = pose.to_world * vector;
  return {scale * world.dot(right), -scale * world.dot(up)};
}

Point Slant::at(const Vec3& point) const {
  const Point offset = direction(point - middle);
  return {origin.x + offset.x, origin.y + offset.y};
}

double Slant::facing(const Vec3& vector) const { return (pose.to_world * vector).dot(towards); }

std::vector<Vec3> corners_of(const geometry::Device& device) {
  std::vector<Vec3> corners;
  for (int i = 0; i < 8; ++i) {
    corners.emplace_back((i & 1) ? device.size.x() : 0.0, (i & 2) ? device.size.y() : 0.0,
                         (i & 4) ? device.size.z() : 0.0);
  }
  return corners;
}

std::vector<Vec3> outline_of(const geometry::Vent& vent) {
  Vec3 first, second;
  geometry::face_axes(vent.face, first, second);
  const Vec3 a = 0.5 * vent.width * first, b = 0.5 * vent.height * second;
  return {vent.centre - a - b, vent.centre + a - b, vent.centre + a + b, vent.centre - a + b};
}

std::vector<Vec3> lid_outline(const geometry::Device& device, double angle) {
  const Vec3 left(0.0, device.size.y(), device.size.z()),
      right(device.size.x(), device.size.y(), device.size.z());
  const Vec3 out = 0.96 * device.size.y() * Vec3(0.0, -std::cos(angle), std::sin(angle));
  return {left, right, right + out, left + out};
}

Slant best_slant(const geometry::Device& device, const geometry::Pose& pose) {
  Slant best;
  double most = -1.0;
  // From the front right first: a lying device is then seen as its user sees it.
  for (const double degrees : {-62.0, -118.0, -28.0, -152.0, 28.0, 152.0, 62.0, 118.0}) {
    const Slant slant = slant_from(degrees * kDegree, device, pose);
    double seen = 0.0;
    for (const geometry::Vent& vent : device.vents) {
      if (vent.is_leak) continue;
      const double facing = slant.facing(geometry::face_normal(vent.face));
      if (facing > kInSight) seen += 1.0 + 0.3 * facing;
    }
    if (seen > most + 1e-9) {
      most = seen;
      best = slant;
    }
  }
  return best;
}

Box extent_of(const geometry::Device& device, const BenchPanel& panel, const Slant& slant) {
  Box box{1e9, 1e9, -1e9, -1e9};
  const auto add = [&](const Vec3& point) {
    const Point at = slant.at(point);
    box = {std::min(box.left, at.x), std::min(box.top, at.y), std::max(box.right, at.x),
           std::max(box.bottom, at.y)};
  };
  for (const Vec3& corner : corners_of(device)) add(corner);
  if (panel.lid)
    for (const Vec3& corner : lid_outline(device, panel.lid_angle)) add(corner);
  for (const StripDrawing& strip : panel.strips) {
    for (const Vec3& point : strip.still) add(point);
    for (const Vec3& point : strip.shape) add(point);
  }
  return box;
}

}  // namespace tuft::figure
