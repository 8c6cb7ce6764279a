// Devices that the section tests share.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "geometry/condition.hpp"
#include "solver/section/solve.hpp"
#include "solver/study/predict.hpp"

namespace tuft::section::test {

using geometry::Face;
using geometry::Vec3;

inline geometry::Vent vent(const std::string& name, Face face, const Vec3& centre, double width,
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

/// A box with one zone, lying on nothing, in one condition: no vent yet.
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

/// 200 by 150 by 20 mm with a slot in the rear and one in the base near it, on a table 6 mm below.
inline geometry::Case slotted_box() {
  geometry::Case c = box({0.2, 0.15, 0.02});
  c.device.vents = {vent("outlet", Face::rear, {0.1, 0.15, 0.01}, 0.1, 0.008),
                    vent("intake", Face::base, {0.1, 0.1, 0.0}, 0.08, 0.03)};
  c.device.feet = 6e-3;
  c.supports[0].kind = geometry::SupportKind::hard;
  return c;
}

inline geometry::Case case_named(const std::string& name) {
  const casefile::ReadResult read =
      casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/" + name + ".yaml");
  REQUIRE(read.errors.empty());
  return read.file.content;
}

/// What the network knows of a condition.
inline SectionGiven given_by(const study::ConditionResult& r) {
  SectionGiven given;
  for (const study::VentResult& v : r.vents) given.vents.push_back({v.inflow, v.outflow, v.temperature_out});
  for (const study::SkinResult& s : r.skins) given.skins.push_back(s.temperature);
  return given;
}

inline double largest(const field::Array2& a) {
  double most = 0.0;
  for (double x : a.values()) most = std::max(most, std::abs(x));
  return most;
}

}  // namespace tuft::section::test
