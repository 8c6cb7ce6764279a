// Chassis that the tests of plan layers and sections share.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"

namespace tuft::test {

using geometry::Vec3;

/// A box with one zone, lying on nothing, in one condition; nothing opens into it yet.
inline geometry::Case box(const Vec3& size) {
  geometry::Case c;
  c.device.name = "box";
  c.device.size = size;
  geometry::Zone zone;
  zone.name = "inside";
  zone.size = size;
  zone.centre = 0.5 * size;
  c.device.zones = {zone};
  c.poses = {geometry::Pose{}};
  c.supports = {geometry::Support{}};
  c.loads = {geometry::Load{}};
  geometry::Condition condition;
  condition.name = "only";
  c.conditions = {condition};
  return c;
}

/// Half open, in slots 2 mm wide.
inline geometry::Vent vent(const std::string& name, geometry::Face face, const Vec3& centre, double width,
                           double height) {
  geometry::Vent v;
  v.name = name;
  v.face = face;
  v.centre = centre;
  v.width = width;
  v.height = height;
  v.cover.kind = geometry::CoverKind::slots;
  v.cover.open_ratio = 0.5;
  v.cover.hole = 2e-3;
  v.cover.thickness = 1e-3;
  return v;
}

}  // namespace tuft::test
