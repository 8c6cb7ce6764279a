#include <atomic>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <new>
#include <stdexcept>

#include "solver/physics/fan.hpp"
#include "tests/physics/difference.hpp"

using namespace tuft::physics;

namespace {

std::atomic<long> allocations{0};

/// A stall dip and hump, as an axial fan has.
FanCurve humped() {
  return FanCurve::from_points({{0.0, 100.0}, {1e-3, 70.0}, {1.5e-3, 75.0}, {2.5e-3, 40.0}, {3e-3, 0.0}},
                               50.0, 1.2);
}

/// Ends above zero pressure.
FanCurve unfinished() { return FanCurve::from_points({{0.0, 100.0}, {1e-3, 80.0}, {2e-3, 50.0}}, 50.0, 1.2); }

FanCurve blower() { return FanCurve::typical(FanKind::blower, 0.052, 0.005, 4600.0 / 60.0); }

}  // namespace

// Counts every allocation of this test binary, to prove that evaluating a curve makes none. All forms are
// replaced together, so that each block is freed the way it was made.
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
  ++allocations;
  return std::malloc(size == 0 ? 1 : size);
}
void* operator new(std::size_t size) {
  if (void* p = operator new(size, std::nothrow)) return p;
  throw std::bad_alloc();
}
void* operator new[](std::size_t size) { return operator new(size); }
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept {
  return operator new(size, std::nothrow);
}
void operator delete(void* p) noexcept { std::free(p); }
void operator delete(void* p, std::size_t) noexcept { std::free(p); }
void operator delete(void* p, const std::nothrow_t&) noexcept { std::free(p); }
void operator delete[](void* p) noexcept { std::free(p); }
void operator delete[](void* p, std::size_t) noexcept { std::free(p); }
void operator delete[](void* p, const std::nothrow_t&) noexcept { std::free(p); }

TEST_CASE("the fan's slope is its derivative, at any speed and on both sides") {
  for (const FanCurve& fan : {humped(), unfinished(), blower()}) {
    for (const double speed : {0.0, 1e-3, 10.0, 50.0, 120.0}) {
      const auto p = [&](double q) { return fan.rise(q, speed, 1.1).pressure; };
      for (double q = -4.03e-3; q < 9e-3; q += 0.11e-3) {
        INFO("speed " << speed << " flow " << q);
        const double scale = fan.shut_off_pressure() / fan.free_delivery();
        REQUIRE(fan.rise(q, speed, 1.1).slope ==
                Approx(tuft::test::central_difference(p, q, 1e-9)).margin(2e-4 * scale));
      }
    }
  }
}

TEST_CASE("value and slope are continuous at both joins") {
  for (const FanCurve& fan : {humped(), unfinished(), blower()}) {
    for (const double speed : {1e-6, 7.0, 50.0}) {
      const double end = fan.points().back().flow * speed / fan.speed();
      for (const double join : {0.0, end}) {
        const double tiny = 1e-9 * end;
        const FanRise left = fan.rise(join - tiny, speed, 1.2), right = fan.rise(join + tiny, speed, 1.2);
        const double n = speed / fan.speed();
        CHECK(left.pressure == Approx(right.pressure).margin(1e-7 * n * n * fan.shut_off_pressure()));
        CHECK(left.slope ==
              Approx(right.slope).margin(1e-6 * n * fan.shut_off_pressure() / fan.free_delivery()));
      }
    }
  }
}

TEST_CASE("the fan laws hold exactly: Q ~ N, p ~ rho N^2") {
  for (const FanCurve& fan : {humped(), unfinished(), blower()}) {
    for (const double ratio : {0.1, 0.5, 1.7}) {
      for (double q = -3e-3; q < 8e-3; q += 0.2e-3) {
        const FanRise full = fan.rise(q, fan.speed(), fan.density());
        const FanRise other = fan.rise(ratio * q, ratio * fan.speed(), 0.8 * fan.density());
        CHECK(other.pressure == Approx(0.8 * ratio * ratio * full.pressure).epsilon(1e-11).margin(1e-11));
        CHECK(other.slope == Approx(0.8 * ratio * full.slope).epsilon(1e-11));
      }
    }
  }
}

TEST_CASE("a still rotor is a quadratic resistance, and slowing down leads there without a jump") {
  for (const FanCurve& fan : {humped(), unfinished(), blower()}) {
    const double k = -fan.rise(1.0, 0.0, fan.density()).pressure;
    for (const double q : {-2e-3, -1e-4, 0.0, 1e-4, 2e-3}) {
      const FanRise still = fan.rise(q, 0.0, fan.density());
      CHECK(still.pressure == Approx(-k * q * std::abs(q)));
      CHECK(still.slope == Approx(-2.0 * k * std::abs(q)));
      const FanRise creeping = fan.rise(q, 1e-9, fan.density());
      CHECK(creeping.pressure == Approx(still.pressure).epsilon(1e-4).margin(1e-9));
    }
  }
}

TEST_CASE("the curve goes through its points; the ends are where they are said to be") {
  for (const FanCurve& fan : {humped(), unfinished(), blower()}) {
    for (const FanPoint& point : fan.points()) {
      CHECK(fan.rise(point.flow, fan.speed(), fan.density()).pressure ==
            Approx(point.pressure).margin(1e-10));
    }
    CHECK(fan.rise(0.0, fan.speed(), fan.density()).pressure == Approx(fan.shut_off_pressure()));
    CHECK(fan.rise(fan.free_delivery(), fan.speed(), fan.density()).pressure ==
          Approx(0.0).margin(1e-9 * fan.shut_off_pressure()));
  }
  const FanCurve below = FanCurve::from_points({{0.0, 10.0}, {1e-3, 4.0}, {2e-3, -6.0}}, 50.0);
  CHECK(below.free_delivery() > 1e-3);
  CHECK(below.rise(below.free_delivery(), 50.0, below.density()).pressure == Approx(0.0).margin(1e-9));
}

TEST_CASE("the stall hump is kept") {
  const FanCurve fan = humped();
  CHECK(fan.rise(1.25e-3, 50.0, 1.2).slope > 0.0);
  CHECK(fan.rise(1.25e-3, 50.0, 1.2).pressure > 70.0);
  CHECK(fan.rise(1.25e-3, 50.0, 1.2).pressure < 75.0);
}

TEST_CASE("past the last point and backwards, by hand") {
  // Straight curve 100 Pa - 5e4 Q to 2 L/s; k = 100 / (2e-3)^2 = 2.5e7.
  const FanCurve fan = FanCurve::from_points({{0.0, 100.0}, {2e-3, 0.0}}, 50.0, 1.2);
  CHECK(fan.rise(1e-3, 0.0, 1.2).pressure == Approx(-25.0));
  CHECK(fan.rise(2.5e-3, 50.0, 1.2).pressure == Approx(-25.0 - 6.25));
  CHECK(fan.rise(-1e-3, 50.0, 1.2).pressure == Approx(100.0 + 50.0 + 25.0));
}

TEST_CASE("the uncertainty of a curve multiplies flow and pressure") {
  const FanCurve fan = humped();
  const FanCurve other = fan.scaled(1.2, 0.8);
  for (double q = -2e-3; q < 6e-3; q += 0.3e-3) {
    CHECK(other.rise(1.2 * q, 40.0, 1.1).pressure == Approx(0.8 * fan.rise(q, 40.0, 1.1).pressure));
  }
}

TEST_CASE("evaluating a fan allocates nothing") {
  const FanCurve fan = humped();
  double sum = 0.0;
  const long before = allocations;
  for (double q = -3e-3; q < 5e-3; q += 1e-5) sum += fan.rise(q, 33.0, 1.15).pressure;
  const long after = allocations;
  CHECK(after == before);
  CHECK(sum != 0.0);
}

// Judgement, see fan.cpp: what a notebook blower of this size commonly gives.
TEST_CASE("a typical notebook blower: about 2 L/s, 100 to 150 Pa") {
  CHECK(blower().free_delivery() == Approx(2.0e-3).epsilon(0.05));
  CHECK(blower().shut_off_pressure() > 100.0);
  CHECK(blower().shut_off_pressure() < 150.0);
}

TEST_CASE("typical fans of similar shape obey the size laws: Q ~ N D^3, p ~ N^2 D^2") {
  for (const FanKind kind : {FanKind::blower, FanKind::axial}) {
    const FanCurve small = FanCurve::typical(kind, 0.04, 0.01, 80.0);
    const FanCurve large = FanCurve::typical(kind, 0.08, 0.02, 60.0);
    CHECK(large.free_delivery() == Approx(small.free_delivery() * 8.0 * 0.75));
    CHECK(large.shut_off_pressure() == Approx(small.shut_off_pressure() * 4.0 * 0.75 * 0.75));
  }
}

TEST_CASE("fan curves that cannot be are refused") {
  using Points = std::vector<FanPoint>;
  CHECK_THROWS_AS(FanCurve::from_points(Points{{0.0, 1.0}}, 50.0), std::invalid_argument);
  CHECK_THROWS_AS(FanCurve::from_points(Points{{1e-3, 1.0}, {2e-3, 0.0}}, 50.0), std::invalid_argument);
  CHECK_THROWS_AS(FanCurve::from_points(Points{{0.0, 0.0}, {2e-3, -1.0}}, 50.0), std::invalid_argument);
  CHECK_THROWS_AS(FanCurve::from_points(Points{{0.0, 1.0}, {2e-3, 2.0}}, 50.0), std::invalid_argument);
  CHECK_THROWS_AS(FanCurve::from_points(Points{{0.0, 1.0}, {0.0, 0.0}}, 50.0), std::invalid_argument);
  CHECK_THROWS_AS(FanCurve::from_points(Points{{0.0, 1.0}, {2e-3, 0.0}}, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(FanCurve::from_points(Points{{0.0, 1.0}, {2e-3, 0.0}}, 50.0, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(FanCurve::typical(FanKind::axial, 0.0, 0.01, 80.0), std::invalid_argument);
}
