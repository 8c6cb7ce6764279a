// Planes seen in perspective, against maps written out by hand.
#include <catch2/catch.hpp>

#include "geometry/photo/homography.hpp"

using namespace tuft::photo;

namespace {

// A projective map written out: derived from nothing but its definition.
Vec2 by_hand(const Vec2& p) {
  const double w = 0.3 * p.x() - 0.2 * p.y() + 1.0;
  return {(2.0 * p.x() + 0.5 * p.y() + 3.0) / w, (-0.4 * p.x() + 1.5 * p.y() - 1.0) / w};
}

constexpr double kTiny = 1e-12;

}  // namespace

TEST_CASE("four corners give the whole projective map, and back") {
  const Quadrilateral from = {Vec2(-1, -0.5), Vec2(1.5, -0.7), Vec2(1.2, 1.1), Vec2(-0.6, 0.9)};
  Quadrilateral to;
  for (int i = 0; i < 4; ++i) to[i] = by_hand(from[i]);
  const auto map = Homography::between(from, to);
  REQUIRE(map);
  for (const Vec2& point : {Vec2(0, 0), Vec2(0.3, 0.8), Vec2(-0.9, -0.2), Vec2(1.4, 1.0)}) {
    const auto there = (*map)(point);
    REQUIRE(there);
    CHECK((*there - by_hand(point)).norm() < kTiny);
    const auto back = map->inverse()(*there);
    REQUIRE(back);
    CHECK((*back - point).norm() < kTiny);
  }
}

TEST_CASE("what lies beyond the horizon has no place") {
  // w = 1 - x / 2: the horizon is at x = 2.
  const auto map = Homography::from_unit_square({Vec2(0, 0), Vec2(2, 0), Vec2(2, 2), Vec2(0, 1)});
  REQUIRE(map);
  CHECK(map->coefficients()[6] == Approx(-0.5));
  CHECK((*map)(Vec2(1.99, 0.5)));
  CHECK_FALSE((*map)(Vec2(2.0, 0.5)));
  CHECK_FALSE((*map)(Vec2(3.0, 0.5)));
}

TEST_CASE("corners that no camera sees are refused") {
  CHECK_FALSE(is_convex({Vec2(0, 0), Vec2(1, 1), Vec2(1, 0), Vec2(0, 1)}));  // crossed
  CHECK_FALSE(is_convex({Vec2(0, 0), Vec2(1, 0), Vec2(0.2, 0.2), Vec2(0, 1)}));
  CHECK_FALSE(is_convex({Vec2(0, 0), Vec2(1, 0), Vec2(2, 0), Vec2(0, 1)}));
  CHECK_FALSE(is_convex({Vec2(0, 0), Vec2(0, 0), Vec2(1, 1), Vec2(0, 1)}));
  CHECK(is_convex({Vec2(0, 0), Vec2(1, 0), Vec2(1, 1), Vec2(0, 1)}));
  CHECK(is_convex({Vec2(0, 1), Vec2(1, 1), Vec2(1, 0), Vec2(0, 0)}));
  CHECK(signed_area({Vec2(0, 0), Vec2(1, 0), Vec2(1, 1), Vec2(0, 1)}) == Approx(2.0));
  CHECK_FALSE(Homography::from_unit_square({Vec2(0, 0), Vec2(1, 1), Vec2(1, 0), Vec2(0, 1)}));
}

TEST_CASE("two points turn, scale and move, and mirror where asked to") {
  // From (1, 1) to (3, 1) onto (10, 20) to (10, 24): a quarter turn, twice as large.
  const auto plain = Homography::from_two_points({1, 1}, {3, 1}, {10, 20}, {10, 24}, false);
  REQUIRE(plain);
  CHECK(((*plain)(Vec2(1, 2)).value() - Vec2(8, 20)).norm() < kTiny);
  const auto mirrored = Homography::from_two_points({1, 1}, {3, 1}, {10, 20}, {10, 24}, true);
  REQUIRE(mirrored);
  CHECK(((*mirrored)(Vec2(1, 2)).value() - Vec2(12, 20)).norm() < kTiny);
  CHECK(((*mirrored)(Vec2(3, 1)).value() - Vec2(10, 24)).norm() < kTiny);
  CHECK_FALSE(Homography::from_two_points({1, 1}, {1, 1}, {0, 0}, {1, 1}, false));
  CHECK_FALSE(Homography::from_two_points({1, 1}, {2, 1}, {1, 1}, {1, 1}, false));
}
