#include "tools/figure/projection.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::figure {
namespace {

using geometry::Face;
using geometry::Vec3;

constexpr double kElevation = 24.0 * numerics::kDegree;
constexpr double kInSight = 0.1;  // cosine
constexpr Face kBoxFaces[] = {Face::base, Face::top, Face::left, Face::right, Face::front, Face::rear};

}  // namespace

Point Projection::direction(const Vec3& vector) const {
  const Vec3 world = pose.to_world * vector;
  return {scale * world.dot(right), -scale * world.dot(up)};
}

Point Projection::at(const Vec3& point) const {
  const Point offset = direction(point - middle);
  return {origin.x + offset.x, origin.y + offset.y};
}

std::vector<Point> Projection::at(const std::vector<Vec3>& points) const {
  std::vector<Point> out;
  for (const Vec3& point : points) out.push_back(at(point));
  return out;
}

double Projection::facing(const Vec3& vector) const { return (pose.to_world * vector).dot(towards); }

Projection projection_from(double azimuth, const geometry::Device& device, const geometry::Pose& pose) {
  const double c = std::cos(azimuth), s = std::sin(azimuth);
  const double ce = std::cos(kElevation), se = std::sin(kElevation);
  Projection projection;
  projection.towards = {ce * c, ce * s, se};
  projection.right = {-s, c, 0.0};
  projection.up = {-se * c, -se * s, ce};
  projection.pose = pose;
  projection.middle = 0.5 * device.size;
  return projection;
}

Projection best_projection(const geometry::Device& device, const geometry::Pose& pose) {
  Projection best;
  double most = -1.0;
  // From the front right first: a lying device is then seen as its user sees it.
  for (const double degrees : {-62.0, -118.0, -28.0, -152.0, 28.0, 152.0, 62.0, 118.0}) {
    const Projection projection = projection_from(degrees * numerics::kDegree, device, pose);
    double seen = 0.0;
    for (const geometry::Vent& vent : device.vents) {
      if (vent.is_leak) continue;
      const double facing = projection.facing(geometry::face_normal(vent.face));
      if (facing > kInSight) seen += 1.0 + 0.3 * facing;
    }
    if (seen > most + 1e-9) {
      most = seen;
      best = projection;
    }
  }
  return best;
}

std::vector<Vec3> corners_of(const geometry::Device& device) {
  std::vector<Vec3> corners;
  for (int i = 0; i < 8; ++i)
    corners.emplace_back((i & 1) ? device.size.x() : 0.0, (i & 2) ? device.size.y() : 0.0,
                         (i & 4) ? device.size.z() : 0.0);
  return corners;
}

std::vector<Vec3> outline_of(const geometry::Vent& vent) {
  Vec3 first, second;
  geometry::side_axes(vent, first, second);
  const Vec3 a = 0.5 * vent.width * first, b = 0.5 * vent.height * second;
  return {vent.centre - a - b, vent.centre + a - b, vent.centre + a + b, vent.centre - a + b};
}

std::vector<Vec3> outline_of(const geometry::Device& device, Face face) {
  geometry::Vent whole;
  whole.face = face;
  whole.centre = 0.5 * device.size + 0.5 * geometry::face_normal(face).cwiseProduct(device.size);
  Vec3 first, second;
  geometry::face_axes(face, first, second);
  whole.width = std::abs(first.dot(device.size));
  whole.height = std::abs(second.dot(device.size));
  return outline_of(whole);
}

std::vector<Vec3> lid_outline(const geometry::Device& device, double angle) {
  const Vec3 left(0.0, device.size.y(), device.size.z()),
      right(device.size.x(), device.size.y(), device.size.z());
  const Vec3 out = 0.96 * device.size.y() * Vec3(0.0, -std::cos(angle), std::sin(angle));
  return {left, right, right + out, left + out};
}

Box box_of(const std::vector<Point>& points) {
  Box box{1e9, 1e9, -1e9, -1e9};
  for (const Point& at : points)
    box = {std::min(box.left, at.x), std::min(box.top, at.y), std::max(box.right, at.x),
           std::max(box.bottom, at.y)};
  return box;
}

void draw_chassis(const Projection& projection, const geometry::Device& device, Paint under, Svg& svg) {
  for (const Face face : kBoxFaces) {
    const Vec3 normal = geometry::face_normal(face);
    if (projection.facing(normal) <= 0.0) continue;
    const bool lit = (projection.pose.to_world * normal).z() > 0.3;
    svg.polygon(projection.at(outline_of(device, face)), {lit ? Paint::body : under, Paint::chassis, 1.4},
                {{"data-face", geometry::face_word(face)}});
  }
}

double height_above_surface(const Projection& projection, const geometry::Device& device) {
  double low = 1e9;
  for (const Vec3& corner : corners_of(device))
    low = std::min(low, (projection.pose.to_world * (corner - projection.middle)).z());
  return (projection.pose.down().z() < -0.9 ? *device.feet : 0.0) - low;
}

void draw_surface(const Projection& projection, const geometry::Device& device, Svg& svg, const Slab& slab) {
  Vec3 from(1e9, 1e9, 0.0), to(-1e9, -1e9, 0.0);
  std::vector<geometry::Pose> poses = slab.poses;
  if (poses.empty()) poses.push_back(projection.pose);
  for (const geometry::Pose& pose : poses) {
    for (const Vec3& corner : corners_of(device)) {
      const Vec3 world = pose.to_world * (corner - projection.middle);
      from = from.cwiseMin(world);
      to = to.cwiseMax(world);
    }
  }
  const double rim = 0.06 * device.size.maxCoeff() + 0.02;
  from -= Vec3(rim, rim, 0.0);
  to += Vec3(rim, rim, 0.0);
  const double top = -height_above_surface(projection, device);
  const auto page = [&](double x, double y, double z) {
    return projection.at(projection.middle + projection.pose.to_world.transpose() * Vec3(x, y, z));
  };
  const auto side = [&](double x0, double y0, double x1, double y1) {
    const double low = top - slab.thickness;
    svg.polygon({page(x0, y0, top), page(x1, y1, top), page(x1, y1, low), page(x0, y0, low)},
                {Paint::solid, Paint::zone, 0.8});
  };
  if (slab.thickness > 0.0) {
    const double x = projection.towards.x() > 0.0 ? to.x() : from.x();
    const double y = projection.towards.y() > 0.0 ? to.y() : from.y();
    side(x, from.y(), x, to.y());
    side(from.x(), y, to.x(), y);
  }
  svg.polygon({page(from.x(), from.y(), top), page(to.x(), from.y(), top), page(to.x(), to.y(), top),
               page(from.x(), to.y(), top)},
              {Paint::grid, Paint::zone, 0.8}, {{"data-surface", "level"}});
}

bool lid_is_behind(const Projection& projection, double angle) {
  const Vec3 out(0.0, std::sin(angle), std::cos(angle));  // of the screen's back
  return projection.facing(out) < 0.0 || projection.facing(Vec3::UnitY()) < 0.0;
}

void draw_lid(const Projection& projection, const geometry::Device& device, double angle, Svg& svg) {
  svg.polygon(projection.at(lid_outline(device, angle)), {Paint::body, Paint::zone, 1.1, {}, 0.55},
              {{"data-lid", "open"}});
}

}  // namespace tuft::figure
