// Drag of threads and strips in slow air.
#include "solver/physics/elastica.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <stdexcept>

using namespace tuft::physics;

namespace {

const DragAir air{1.204, 1.506e-5};

/// A force's slope is the difference of its values, and it is odd in the velocity.
void check_force(const std::function<DragForce(double)>& force) {
  for (const double velocity : {1e-5, 1e-3, 0.02, 0.1, 0.7, 3.0}) {
    INFO("velocity " << velocity);
    const double step = 1e-5 * velocity;
    const double slope = (force(velocity + step).value - force(velocity - step).value) / (2.0 * step);
    CHECK(force(velocity).slope == Approx(slope).epsilon(2e-3));
    CHECK(force(velocity).value > 0.0);
    CHECK(force(-velocity).value == Approx(-force(velocity).value).epsilon(1e-14));
    CHECK(force(-velocity).slope == Approx(force(velocity).slope).epsilon(1e-14));
  }
  CHECK(force(0.0).value == 0.0);
  CHECK(std::isfinite(force(0.0).slope));
}

/// Drag coefficient of a strip square to the flow, Re on its width, by its force: 1/2 rho u^2 b C.
double strip_drag(double reynolds, double aspect) {
  const double width = 0.015, u = reynolds * air.viscosity / width;
  return strip_across(u, width, aspect * width, air).value / (0.5 * air.density * u * u * width);
}

}  // namespace

TEST_CASE("drag of a cylinder across the flow", "[memory:4]") {
  // White's fit, from memory: 3.15 at Re 10, 1.85 at 40, 1.46 at 100, 1.10 at 1000.
  CHECK(cylinder_drag(10.0) == Approx(3.15).epsilon(5e-3));
  CHECK(cylinder_drag(40.0) == Approx(1.85).epsilon(5e-3));
  CHECK(cylinder_drag(100.0) == Approx(1.46).epsilon(5e-3));
  CHECK(cylinder_drag(1000.0) == Approx(1.10).epsilon(5e-3));
  // Lamb's creeping flow (formula from memory): 380 at 0.01, 58.4 at 0.1, 34.8 at 0.2.
  CHECK(cylinder_drag(0.01) == Approx(380.0).epsilon(5e-3));
  CHECK(cylinder_drag(0.1) == Approx(58.4).epsilon(2e-3));
  CHECK(cylinder_drag(0.2) == Approx(34.8).epsilon(2e-3));
  // It falls all the way, without a step where the two are joined.
  for (double re = 1e-3; re < 1e4; re *= 1.02) CHECK(cylinder_drag(1.02 * re) < cylinder_drag(re));
}

TEST_CASE("drag of a strip square to the flow", "[memory:5]") {
  // White and Hoerner from memory, high Re: 1.18 square, 1.2 at 5 : 1, 1.3 at 10, 1.5 at 20, 2.0 endless.
  CHECK(strip_drag(1e9, 1.0) == Approx(1.18).epsilon(1e-4));
  CHECK(strip_drag(1e9, 5.0) == Approx(1.20).epsilon(1e-4));
  CHECK(strip_drag(1e9, 10.0) == Approx(1.30).epsilon(1e-4));
  CHECK(strip_drag(1e9, 1e9) == Approx(2.0).epsilon(1e-4));
  CHECK(strip_drag(100.0, 10.0) > strip_drag(1000.0, 10.0));
  CHECK(strip_drag(500.0, 0.1) == Approx(strip_drag(500.0, 10.0)));
}

TEST_CASE("drag forces: values, slopes, sign") {
  check_force([](double v) { return thread_across(v, 2e-3, air); });
  check_force([](double v) { return thread_across(v, 1e-4, air); });
  check_force([](double v) { return thread_along(v, 2e-3, air); });
  check_force([](double v) { return strip_across(v, 0.015, 0.15, air); });
  check_force([](double v) { return strip_along(v, 0.015, 0.15, air); });
  // By definition: 1/2 rho u^2 b C, of a strip 10 : 1 with C = 1.3 + 10 Re^(-2/3).
  const double re = 0.5 * 0.015 / air.viscosity;
  CHECK(strip_across(0.5, 0.015, 0.15, air).value ==
        Approx(0.5 * 1.204 * 0.25 * 0.015 * (1.3 + 10.0 / std::cbrt(re * re))).epsilon(1e-12));
  const double thread_re = 0.5 * 2e-3 / air.viscosity;
  CHECK(thread_across(0.5, 2e-3, air).value ==
        Approx(0.5 * 1.204 * 0.25 * 2e-3 * cylinder_drag(thread_re)).epsilon(1e-12));
  // Friction of two sides: 1.328 Re^(-1/2) each on the length.
  const double length_re = 0.5 * 0.15 / air.viscosity;
  CHECK(strip_along(0.5, 0.015, 0.15, air).value ==
        Approx(2.0 * 0.5 * 1.204 * 0.25 * 0.015 * 1.328 / std::sqrt(length_re)).epsilon(1e-12));
  // Edge-on, a strip feels far less than broadside.
  CHECK(strip_along(0.5, 0.015, 0.15, air).value < 0.05 * strip_across(0.5, 0.015, 0.15, air).value);
}

TEST_CASE("drag: wrong input is refused") {
  CHECK_THROWS_AS(cylinder_drag(0.0), std::invalid_argument);
  CHECK_THROWS_AS(strip_across(1.0, 0.0, 0.1, air), std::invalid_argument);
  CHECK_THROWS_AS(thread_across(std::nan(""), 1e-3, air), std::invalid_argument);
  CHECK_THROWS_AS(thread_along(1.0, 0.0, air), std::invalid_argument);
  CHECK_THROWS_AS(strip_across(1.0, 0.01, 0.1, DragAir{0.0, 1e-5}), std::invalid_argument);
  CHECK_THROWS_AS(strip_along(1.0, 0.01, -0.1, air), std::invalid_argument);
}
