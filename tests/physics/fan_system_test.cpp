// Fans with a resistance, in series and in parallel, by hand: straight curves make the arithmetic plain.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/fan.hpp"

using namespace tuft::physics;

namespace {

constexpr double speed = 50.0, rho = 1.2;

/// 100 Pa - 5e4 Q, free at 2 L/s.
FanCurve strong() { return FanCurve::from_points({{0.0, 100.0}, {2e-3, 0.0}}, speed, rho); }
/// 60 Pa - 2e4 Q, free at 3 L/s.
FanCurve wide() { return FanCurve::from_points({{0.0, 60.0}, {3e-3, 0.0}}, speed, rho); }

/// Flow at which `rise(Q)` meets K Q |Q|, by Newton with the fans' own slopes.
template <class Rise>
double operating_point(const Rise& rise, double k) {
  double q = 1e-4;
  for (int i = 0; i < 60; ++i) {
    const FanRise r = rise(q);
    q -= (r.pressure - k * q * std::fabs(q)) / (r.slope - 2.0 * k * std::fabs(q));
  }
  return q;
}

/// Flow of a fan at a pressure rise, by Newton.
double flow_at(const FanCurve& fan, double pressure) {
  double q = 1e-3;
  for (int i = 0; i < 60; ++i) {
    const FanRise r = fan.rise(q, speed, rho);
    q -= (r.pressure - pressure) / r.slope;
  }
  return q;
}

}  // namespace

TEST_CASE("one fan against a quadratic resistance") {
  // 100 - 5e4 Q = 5e7 Q^2 at Q = 1 L/s: 50 Pa on both sides.
  const FanCurve fan = strong();
  const double q = operating_point([&fan](double x) { return fan.rise(x, speed, rho); }, 5e7);
  CHECK(q == Approx(1e-3).epsilon(1e-10));
  CHECK(fan.rise(q, speed, rho).pressure == Approx(50.0));
}

TEST_CASE("half the speed, half the flow through a quadratic resistance") {
  const FanCurve fan = strong();
  const double q = operating_point([&fan](double x) { return fan.rise(x, 0.5 * speed, rho); }, 5e7);
  CHECK(q == Approx(0.5e-3).epsilon(1e-10));
}

TEST_CASE("two fans in series: pressures add at the same flow") {
  // At 1 L/s 50 Pa + 40 Pa = 90 Pa, so K = 9e7 gives 1 L/s.
  const FanCurve a = strong(), b = wide();
  const auto both = [&](double q) {
    const FanRise ra = a.rise(q, speed, rho), rb = b.rise(q, speed, rho);
    return FanRise{ra.pressure + rb.pressure, ra.slope + rb.slope};
  };
  CHECK(operating_point(both, 9e7) == Approx(1e-3).epsilon(1e-10));
}

TEST_CASE("in series without resistance the weaker fan is dragged past its free delivery") {
  // 160 - 7e4 Q = 0 at 2.2857 L/s would be straight on; past 2 L/s the strong fan bends: with x = Q - 2 L/s
  // (100 - 5e4 Q) - 2.5e7 x^2 + 60 - 2e4 Q = 0, x^2 + 2.8e-3 x - 8e-7 = 0.
  const FanCurve a = strong(), b = wide();
  const auto both = [&](double q) {
    const FanRise ra = a.rise(q, speed, rho), rb = b.rise(q, speed, rho);
    return FanRise{ra.pressure + rb.pressure, ra.slope + rb.slope};
  };
  const double x = -1.4e-3 + std::sqrt(1.4e-3 * 1.4e-3 + 8e-7);
  const double q = operating_point(both, 0.0);
  CHECK(q == Approx(2e-3 + x).epsilon(1e-10));
  CHECK(a.rise(q, speed, rho).pressure < 0.0);
  CHECK(b.rise(q, speed, rho).pressure > 0.0);
}

TEST_CASE("two fans in parallel: flows add at the same pressure") {
  // At 30 Pa 1.4 L/s + 1.5 L/s.
  CHECK(flow_at(strong(), 30.0) + flow_at(wide(), 30.0) == Approx(2.9e-3).epsilon(1e-10));
}

TEST_CASE("in parallel above its shut-off pressure the weaker fan is blown backwards") {
  // 80 Pa: wide has 60 - 2e4 Q + k Q^2 with Q < 0, k = 60 / 9e-6.
  const double q = flow_at(wide(), 80.0);
  CHECK(q < 0.0);
  const double k = 60.0 / 9e-6;
  CHECK(60.0 - 2e4 * q + k * q * q == Approx(80.0));
}

TEST_CASE("two equal fans double the flow only without resistance, the pressure only when blocked") {
  const FanCurve fan = strong();
  CHECK(2.0 * flow_at(fan, 0.0) == Approx(2.0 * fan.free_delivery()));
  CHECK(2.0 * fan.rise(0.0, speed, rho).pressure == Approx(2.0 * fan.shut_off_pressure()));
  const auto one = [&](double q) { return fan.rise(q, speed, rho); };
  const auto parallel = [&](double q) {
    const FanRise r = fan.rise(0.5 * q, speed, rho);
    return FanRise{r.pressure, 0.5 * r.slope};
  };
  const double single = operating_point(one, 5e7);
  CHECK(operating_point(parallel, 5e7) > single);
  CHECK(operating_point(parallel, 5e7) < 2.0 * single);
}
