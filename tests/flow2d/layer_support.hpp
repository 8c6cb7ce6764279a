// Chassis that the plan tests share.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"
#include "solver/flow2d/layer_solve.hpp"
#include "tests/support/chassis.hpp"

namespace tuft::flow2d::test {

using geometry::Vec3;

using tuft::test::box;
using tuft::test::vent;

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

inline PlanResult solved(const geometry::Case& c, double cell, const LayerBoundaryData& given = {}) {
  PlanOptions options;
  options.cell = cell;
  return solve_plan(c, c.conditions[0], given, options);
}

}  // namespace tuft::flow2d::test
