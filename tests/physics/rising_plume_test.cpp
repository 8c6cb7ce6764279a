// Plumes: their constants from the equations they come from, their growth, their limits.
#include "solver/physics/plume.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/numerics/constants.hpp"

using namespace tuft::physics;

namespace {

constexpr double kAir = 1.5e-5;  // nu [m2/s]
constexpr double kPrandtl = 0.71;

using Point = std::array<double, 5>;
template <typename Slope>
Point runge_kutta(const Slope& slope, double x, const Point& y, double h) {
  const auto moved = [&](const Point& k, double by) {
    Point out = y;
    for (std::size_t i = 0; i < out.size(); ++i) out[i] += by * k[i];
    return out;
  };
  const Point a = slope(x, y), b = slope(x + 0.5 * h, moved(a, 0.5 * h)),
              c = slope(x + 0.5 * h, moved(b, 0.5 * h)), d = slope(x + h, moved(c, h));
  Point out = y;
  for (std::size_t i = 0; i < out.size(); ++i) out[i] += h / 6.0 * (a[i] + 2.0 * b[i] + 2.0 * c[i] + d[i]);
  return out;
}

// Speed on the axis, warmth there 1, for which the air far away stands still: below it the air sinks there.
template <typename Shot>
double speed_on_axis(const Shot& sinks) {
  double low = 0.2, high = 3.0;
  for (int k = 0; k < 50; ++k) (sinks(0.5 * (low + high)) ? low : high) = 0.5 * (low + high);
  return high;
}

struct Constants {
  double flow, speed;
};

// Over a line, psi = nu (B x^3/nu^3)^(1/5) F(eta), eta = (y/x)(B x^3/nu^3)^(1/5):
// F''' + 3/5 F F'' - 1/5 F'^2 + h = 0, h' = -3/5 Pr F h, integral F' h over both sides = 1.
Constants laminar_line() {
  const auto slope = [](double, const Point& y) {
    return Point{y[1], y[2], -0.6 * y[0] * y[2] + 0.2 * y[1] * y[1] - y[3], -0.6 * kPrandtl * y[0] * y[3],
                 y[1] * y[3]};
  };
  Point end{};
  const auto sinks = [&](double speed) {
    Point y{0.0, speed, 0.0, 1.0, 0.0};
    for (double x = 0.0; x < 25.0; x += 0.005) {
      y = runge_kutta(slope, x, y, 0.005);
      if (y[1] < 0.0) return true;
      if (y[2] > 0.0) break;
    }
    end = y;
    return false;
  };
  const double speed = speed_on_axis(sinks);         // `end` is that of the last shot that did not sink
  const double scale = std::pow(0.5 / end[4], 0.2);  // F = scale f makes the integral 1
  return {2.0 * scale * end[0], speed * scale * scale};
}

// Over a point, psi = nu x F(eta), eta = (r/x)(B x^2/nu^3)^(1/4), W = F'/eta:
// (eta W')' + F W' + eta h = 0, eta h' = -Pr F h, 2 pi integral eta W h = 1.
Constants laminar_point() {
  const auto slope = [](double x, const Point& y) {
    return Point{x * y[1], y[2] / x, -y[0] * y[2] / x - x * y[3], -kPrandtl * y[0] * y[3] / x,
                 x * y[1] * y[3]};
  };
  Point end{};
  const auto sinks = [&](double speed) {
    double x = 1e-3;
    Point y{0.5 * speed * x * x, speed, -0.5 * x * x, 1.0, 0.0};
    for (; x < 60.0; x += 0.01) {
      y = runge_kutta(slope, x, y, 0.01);
      if (y[1] < 0.0) return true;
      if (y[2] > 0.0) break;
    }
    end = y;
    return false;
  };
  const double speed = speed_on_axis(sinks);  // `end` is that of the last shot that did not sink
  return {2.0 * tuft::numerics::kPi * end[0], speed / std::sqrt(2.0 * tuft::numerics::kPi * end[4])};
}

}  // namespace

TEST_CASE("laminar plumes: the constants solve the boundary-layer equations", "[derived:4]") {
  const Constants line = laminar_line();
  CHECK(line.flow == Approx(laminar_line_constant).epsilon(0.005));
  CHECK(line.speed == Approx(laminar_line_speed).epsilon(0.005));
  const Constants point = laminar_point();
  CHECK(point.flow == Approx(laminar_point_constant).epsilon(0.01));
  CHECK(point.speed == Approx(laminar_point_speed).epsilon(0.01));
}

TEST_CASE("a turbulent plume over a point grows as Morton, Taylor & Turner 1956 have it", "[memory:2]") {
  // 6/5 a (9/10 a)^(1/3) pi^(2/3) (from memory).
  const double a = 0.117;
  CHECK(1.2 * a * std::cbrt(0.9 * a) * std::pow(tuft::numerics::kPi, 2.0 / 3.0) ==
        Approx(point_plume_constant).epsilon(0.005));
  PlumeSource source;
  source.buoyancy = 1.0;  // so strong that the laminar part is nothing
  source.longer = 1e-3;
  CHECK(plume_at(source, 2.0, kAir).flow == Approx(0.142 * std::pow(2.0, 5.0 / 3.0)).epsilon(0.01));
}

TEST_CASE("a plume's flow is continuous in height, from laminar to turbulent and from line to point") {
  for (const double buoyancy : {1e-5, 1e-3})
    for (const double longer : {1e-3, 0.1, 1.0}) {
      PlumeSource source;
      source.buoyancy = buoyancy;
      source.longer = longer;
      const auto largest_step = [&](double step) {
        double most = 0.0;
        for (double z = 0.05; z < 3.0; z *= 1.0 + step)
          most = std::max(most, std::abs(std::log(plume_at(source, z * (1.0 + step), kAir).flow /
                                                  plume_at(source, z, kAir).flow)));
        return most;
      };
      CHECK(largest_step(0.005) < 0.6 * largest_step(0.01));
    }
}

TEST_CASE("a plume on a wall is half of one of twice the heat; nothing rises below a source") {
  PlumeSource free, wall;
  free.buoyancy = 2e-4, wall.buoyancy = 1e-4;
  free.longer = wall.longer = 0.2;
  wall.wall = 1.0;
  CHECK(plume_at(wall, 0.3, kAir).flow == Approx(0.5 * plume_at(free, 0.3, kAir).flow));
  free.base = free.top = 0.3;
  CHECK(plume_at(free, 0.3, kAir).flow == 0.0);
  CHECK(plume_at(free, 0.2, kAir).flow == 0.0);
  free.buoyancy = 0.0;
  CHECK(plume_at(free, 0.5, kAir).flow == 0.0);
}
