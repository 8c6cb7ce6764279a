// Air drawn into a rectangle: exact potential flow, its limits, and the handbook's hood formulas.
#include "solver/numerics/constants.hpp"
#include "solver/physics/near_vent.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

using namespace tuft::physics;
using Eigen::Vector3d;

namespace {

using tuft::numerics::kPi;
const Face slot{0.060, 0.004, 1.0};
const Face square{0.040, 0.040, 1.0};
const double flow = 1.0e-3;

/// Centreline speed before a plain duct end after Dalla Valle J.M. (1952), as transcribed in ACGIH,
/// "Industrial Ventilation", 24th ed. (2001): Q = V (10 X^2 + A). For aspects of 5 : 1 and rounder.
double plain_hood(double area, double distance) { return flow / (10.0 * distance * distance + area); }

/// The rectangle cut into many point sinks, each drawing from the half space: Q/(2 pi r^2).
Vector3d many_points(const Face& face, const Vector3d& point) {
  constexpr int count = 300;
  Vector3d sum = Vector3d::Zero();
  for (int i = 0; i < count; ++i) {
    for (int j = 0; j < count; ++j) {
      const Vector3d from(face.width * ((i + 0.5) / count - 0.5), face.height * ((j + 0.5) / count - 0.5), 0);
      const Vector3d r = point - from;
      sum -= flow / (2.0 * kPi * count * count) * r / std::pow(r.norm(), 3);
    }
  }
  return sum;
}

/// Flow through a hemisphere around the origin, by the midpoint rule in cos(polar angle) and azimuth.
double through_hemisphere(const Face& face, const Vector3d& centre, double radius) {
  constexpr int polar = 200, around = 200;
  double sum = 0.0;
  for (int i = 0; i < polar; ++i) {
    const double c = (i + 0.5) / polar, s = std::sqrt(1.0 - c * c);
    for (int j = 0; j < around; ++j) {
      const double phi = 2.0 * kPi * (j + 0.5) / around;
      const Vector3d n(s * std::cos(phi), s * std::sin(phi), c);
      sum -= sink_velocity(face, flow, centre + radius * n).dot(n);
    }
  }
  return sum * 2.0 * kPi * radius * radius / (polar * around);
}

/// Flow through a box that stands on the flange: top and four sides, midpoint rule.
double through_box(const Face& face, double half_x, double half_y, double top) {
  constexpr int count = 200;
  double sum = 0.0;
  for (int i = 0; i < count; ++i) {
    for (int j = 0; j < count; ++j) {
      const double u = (i + 0.5) / count, v = (j + 0.5) / count;
      const double x = half_x * (2.0 * u - 1.0), y = half_y * (2.0 * u - 1.0), z = top * v;
      const auto at = [&](double px, double py, double pz) {
        return sink_velocity(face, flow, Vector3d(px, py, pz));
      };
      sum -= at(x, half_y * (2.0 * v - 1.0), top).z() * 4.0 * half_x * half_y;
      sum -= (at(half_x, y, z).x() - at(-half_x, y, z).x()) * 2.0 * half_y * top;
      sum -= (at(x, half_y, z).y() - at(x, -half_y, z).y()) * 2.0 * half_x * top;
    }
  }
  return sum / (count * count);
}

}  // namespace

TEST_CASE("intake: the closed form is the sum of point sinks") {
  // Derived: the definition, cut into 90 000 points.
  for (const Face& face : {slot, square}) {
    for (const Vector3d& point : {Vector3d(0.0, 0.0, 0.01), Vector3d(0.02, 0.005, 0.004),
                                  Vector3d(-0.05, 0.03, 0.02), Vector3d(0.1, 0.0, 0.001)}) {
      const Vector3d exact = sink_velocity(face, flow, point);
      CHECK((exact - many_points(face, point)).norm() < 2e-4 * exact.norm());
    }
  }
}

TEST_CASE("intake: the flow through any surface around it is its own") {
  // Conservation of volume; a hemisphere, one off centre, and a box.
  for (const Face& face : {slot, square}) {
    CHECK(through_hemisphere(face, Vector3d::Zero(), 0.05) == Approx(flow).epsilon(1e-4));
    CHECK(through_hemisphere(face, Vector3d(0.01, -0.02, 0.0), 0.2) == Approx(flow).epsilon(1e-4));
    CHECK(through_box(face, 0.05, 0.03, 0.02) == Approx(flow).epsilon(1e-4));
  }
}

TEST_CASE("intake: limits on the face, on the flange and far away") {
  // On the face the mean velocity goes straight in, on the flange nothing passes (derived).
  CHECK(sink_velocity(slot, flow, {0.01, 0.001, 0.0}).z() == Approx(-flow / slot.area()).epsilon(1e-12));
  CHECK(sink_velocity(slot, flow, {0.05, 0.0, 0.0}).z() == Approx(0.0).margin(1e-12));
  // Far away it is a point in a plane: Q/(2 pi X^2) (derived).
  for (const Vector3d& direction : {Vector3d(0, 0, 1), Vector3d(0.6, 0.0, 0.8), Vector3d(1, 0, 0)}) {
    const double distance = 6.0;
    const Vector3d u = sink_velocity(slot, flow, distance * direction);
    CHECK(u.norm() == Approx(flow / (2.0 * kPi * distance * distance)).epsilon(1e-4));
    CHECK(u.normalized().dot(direction) == Approx(-1.0).epsilon(1e-4));
  }
  // On the axis of a square of side a (textbook field of a charged square, derived).
  const double z = 0.03, half = 0.02;
  const double axis = 4.0 * std::atan(half * half / (z * std::sqrt(2.0 * half * half + z * z)));
  CHECK(sink_velocity(square, flow, {0, 0, z}).z() ==
        Approx(-flow / (2.0 * kPi * square.area()) * axis).epsilon(1e-12));
}

TEST_CASE("intake: the field has neither sources nor whirls in the room") {
  // Continuity and potential flow, by central differences.
  const double h = 1e-6;
  for (const Vector3d& p : {Vector3d(0.01, 0.004, 0.01), Vector3d(0.04, -0.02, 0.03)}) {
    Eigen::Matrix3d slope;
    for (int j = 0; j < 3; ++j) {
      const Vector3d e = h * Vector3d::Unit(j);
      slope.col(j) = (sink_velocity(slot, flow, p + e) - sink_velocity(slot, flow, p - e)) / (2.0 * h);
    }
    CHECK(std::abs(slope.trace()) < 1e-6 * slope.norm());
    CHECK((slope - slope.transpose()).norm() < 1e-6 * slope.norm());
  }
}

TEST_CASE("intake: finite on the rim and symmetric") {
  const Vector3d rim = sink_velocity(square, flow, {0.02, 0.01, 0.0});
  CHECK(rim.allFinite());
  CHECK(sink_velocity(square, flow, {0.02, 0.02, 0.0}).allFinite());
  const Vector3d a = sink_velocity(slot, flow, {0.02, 0.01, 0.005});
  const Vector3d b = sink_velocity(slot, flow, {-0.02, 0.01, 0.005});
  CHECK(a.x() == Approx(-b.x()).epsilon(1e-14));
  CHECK(a.z() == Approx(b.z()).epsilon(1e-14));
  CHECK(sink_velocity(slot, 0.0, {0.01, 0.0, 0.01}).norm() == 0.0);
}

TEST_CASE("intake against the published hood formula", "[outside:2]") {
  // ACGIH, Industrial Ventilation, 24th ed. (2001), stated use +-30 %. The flanged formula Q = 0.75 V (10 X^2
  // + A) is no potential flow: far away it is 16 % low (7.5 for 2 pi), and on the face a third high, as there
  // a flange changes nothing. So it is compared from half the long side on, and nearer the plain one.
  for (const Face& face : {square, Face{0.060, 0.030, 1.0}, Face{0.050, 0.0125, 1.0}}) {
    const double half = 0.5 * face.width;
    for (double x = half; x <= 10.0 * half; x += 0.25 * half) {
      const double exact = -sink_velocity(face, flow, {0, 0, x}).z();
      CHECK(plain_hood(face.area(), x) / 0.75 == Approx(exact).epsilon(0.30));
    }
    for (double x = 0.05 * half; x < half; x += 0.05 * half) {
      const double exact = -sink_velocity(face, flow, {0, 0, x}).z();
      CHECK(plain_hood(face.area(), x) == Approx(exact).epsilon(0.30));
    }
  }
  // Slot, flanged Q = 2.6 L V X; of an endless line it would be pi L V X (derived), so the formula is 21 %
  // high near and more where the slot's width or ends are felt: from 1.5 slot widths to a seventh of the
  // length.
  for (double x = 0.006; x <= 0.06 / 7.0; x += 0.0005) {
    const double exact = -sink_velocity(slot, flow, {0, 0, x}).z();
    CHECK(flow / (2.6 * slot.width * x) == Approx(exact).epsilon(0.30));
  }
}

TEST_CASE("intake: wrong input is refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(sink_velocity(slot, -1.0, {0, 0, 1}), std::invalid_argument);
  CHECK_THROWS_AS(sink_velocity(slot, flow, {0, 0, -1e-6}), std::invalid_argument);
  CHECK_THROWS_AS(sink_velocity(slot, flow, {nan, 0, 1}), std::invalid_argument);
  CHECK_THROWS_AS(sink_velocity({0.0, 0.1, 1.0}, flow, {0, 0, 1}), std::invalid_argument);
  CHECK_THROWS_AS(sink_velocity({0.1, 0.1, 1.5}, flow, {0, 0, 1}), std::invalid_argument);
}
