// Chassis that the plan tests share.
#pragma once

#include <string>

#include "geometry/condition.hpp"
#include "solver/plan/solve.hpp"

namespace tuft::plan::test {

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

/// A layer of foam, nearly all viscous.
inline void cover_with_foam(double permeability, geometry::Vent* v) {
  v->cover.kind = geometry::CoverKind::foam;
  v->cover.thickness = 2e-3;
  v->cover.permeability = permeability;
}

/// A fan that draws from vent `from` and blows into the zone.
inline geometry::Fan fan_into_zone(int from, double pressure, double flow) {
  geometry::Fan f;
  f.name = "fan";
  f.diameter = 0.04;
  f.thickness = 0.01;
  f.speed = 50.0;
  f.curve = {{0.0, pressure}, {0.5 * flow, 0.8 * pressure}, {flow, 0.0}};
  f.curve_speed = 50.0;
  f.draws_from = {geometry::PlaceKind::vent, from};
  f.blows_into = {geometry::PlaceKind::zone, 0};
  return f;
}

inline PlanResult solved(const geometry::Case& c, double cell, const Given& given = {}) {
  PlanOptions options;
  options.cell = cell;
  return solve_plan(c, c.conditions[0], given, options);
}

}  // namespace tuft::plan::test
