#include "solver/numerics/curves.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "tests/physics/difference.hpp"

using tuft::numerics::MonotoneCubic;

namespace {

/// Steep and flat stretches side by side: where an ordinary cubic spline overshoots.
const std::vector<double> steep_x = {0.0, 1.0, 1.2, 3.0, 3.1, 6.0};
const std::vector<double> steep_y = {10.0, 9.9, 4.0, 3.9, 0.5, 0.0};

/// A fan's stall: dip at 2, hump at 3.
const std::vector<double> hump_x = {0.0, 1.0, 2.0, 3.0, 4.0, 5.0};
const std::vector<double> hump_y = {10.0, 8.0, 6.0, 7.0, 5.0, 0.0};

}  // namespace

TEST_CASE("points on a straight line give the line") {
  const MonotoneCubic line({0.0, 0.3, 1.0, 4.0}, {5.0, 4.4, 3.0, -3.0});
  for (double x = -1.0; x <= 5.0; x += 0.13) {
    CHECK(line(x).value == Approx(5.0 - 2.0 * x).margin(1e-12));
    CHECK(line(x).slope == Approx(-2.0).epsilon(1e-12));
  }
}

TEST_CASE("the curve goes through its points and does not overshoot") {
  // The second is steep enough to swing back without the limit on the slopes, but only just.
  const MonotoneCubic curves[] = {{steep_x, steep_y}, {{0.0, 1.0, 2.0, 3.0}, {0.0, -1.0, -10.0, -11.0}}};
  for (const MonotoneCubic& curve : curves) {
    for (std::size_t i = 0; i < curve.x().size(); ++i) {
      CHECK(curve(curve.x()[i]).value == Approx(curve.y()[i]));
    }
    double before = curve(0.0).value;
    for (int i = 1; i <= 6000; ++i) {
      const double y = curve(curve.x().back() * i / 6000.0).value;
      REQUIRE(y <= before + 1e-14);
      before = y;
    }
  }
}

TEST_CASE("a hump is kept, with its top at the point") {
  const MonotoneCubic curve(hump_x, hump_y);
  CHECK(curve(2.0).slope == 0.0);
  CHECK(curve(3.0).slope == 0.0);
  for (int i = 1; i < 100; ++i) {
    const double x = 2.0 + 0.01 * i;
    REQUIRE(curve(x).value > 6.0);
    REQUIRE(curve(x).value < 7.0);
    REQUIRE(curve(x).slope > 0.0);
  }
}

TEST_CASE("a flat stretch stays flat") {
  const MonotoneCubic curve({0.0, 1.0, 2.0, 3.0}, {0.0, 1.0, 1.0, 2.0});
  CHECK(curve(1.4).value == 1.0);
  CHECK(curve(1.4).slope == 0.0);
}

TEST_CASE("the curve's slope is its derivative, and both are continuous at the points") {
  for (const MonotoneCubic& curve : {MonotoneCubic(steep_x, steep_y), MonotoneCubic(hump_x, hump_y)}) {
    const auto value = [&curve](double x) { return curve(x).value; };
    for (double x = -0.505; x < 6.5; x += 0.0137) {
      REQUIRE(curve(x).slope == Approx(tuft::test::central_difference(value, x, 1e-6)).margin(2e-4));
    }
    for (const double x : curve.x()) {
      const double tiny = 1e-9;
      CHECK(curve(x - tiny).value == Approx(curve(x + tiny).value).margin(1e-6));
      CHECK(curve(x - tiny).slope == Approx(curve(x + tiny).slope).margin(1e-5));
    }
  }
}

TEST_CASE("a smooth curve is met to second order or better") {
  const auto error = [](int n) {
    std::vector<double> x, y;
    for (int i = 0; i <= n; ++i) {
      x.push_back(double(i) / n);
      y.push_back(std::exp(x.back()));
    }
    const MonotoneCubic curve(x, y);
    double worst = 0.0;
    for (double s = 0.0; s <= 1.0; s += 0.001)
      worst = std::max(worst, std::fabs(curve(s).value - std::exp(s)));
    return worst;
  };
  CHECK(error(10) / error(20) > 3.5);
  CHECK(error(20) / error(40) > 3.5);
}

TEST_CASE("points that make no curve are refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(MonotoneCubic({0.0}, {1.0}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({0.0, 1.0}, {1.0}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({0.0, 0.0}, {1.0, 2.0}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({1.0, 0.0}, {1.0, 2.0}), std::invalid_argument);
  CHECK_THROWS_AS(MonotoneCubic({0.0, 1.0}, {1.0, nan}), std::invalid_argument);
}
