// Devices that the section tests share.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "geometry/device/condition.hpp"
#include "solver/flow2d/section_solve.hpp"
#include "solver/study/predict.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/chassis.hpp"

namespace tuft::flow2d::test {

using geometry::Face;
using geometry::Vec3;

using tuft::test::box;
using tuft::test::case_named;
using tuft::test::condition_named;
using tuft::test::vent;

/// 200 by 150 by 20 mm with a slot in the rear and one in the base near it, on a table 6 mm below.
inline geometry::Case slotted_box() {
  geometry::Case c = box({0.2, 0.15, 0.02});
  c.device.vents = {vent("outlet", Face::rear, {0.1, 0.15, 0.01}, 0.1, 0.008),
                    vent("intake", Face::base, {0.1, 0.1, 0.0}, 0.08, 0.03)};
  c.device.feet = 6e-3;
  c.supports[0].kind = geometry::SupportKind::hard;
  return c;
}

/// What the network knows of a condition.
inline SectionBoundaryData given_by(const study::ConditionResult& r) {
  SectionBoundaryData given;
  for (const study::VentResult& v : r.vents) given.vents.push_back({v.inflow, v.outflow, v.temperature_out});
  for (const study::SkinResult& s : r.skins) given.skins.push_back(s.temperature);
  return given;
}

inline double largest(const flow2d::Array2& a) {
  double most = 0.0;
  for (double x : a.values()) most = std::max(most, std::abs(x));
  return most;
}

}  // namespace tuft::flow2d::test
