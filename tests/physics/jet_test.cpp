// The free jet: the handbook's zones and worked example, balances, buoyancy.
#include "solver/physics/jet.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

using namespace tuft::physics;
using Eigen::Vector3d;

namespace {

Outlet outlet(double width, double height, double open_ratio, double flow) {
  Outlet out;
  out.face = {width, height, open_ratio};
  out.flow = flow;
  return out;
}

/// Warm air by `excess` out of a fast square outlet, gravity along -y of the vent's frame.
Outlet warm(double excess, double speed) {
  Outlet out = outlet(0.2, 0.2, 1.0, 0.04 * speed);
  out.temperature = out.room_temperature + excess;
  out.gravity = {0.0, -9.80665, 0.0};
  return out;
}

/// Archimedes number g L dT/(V^2 T) of such an outlet (ASHRAE ch. 20, eq. 11), dT/T by the densities: over
/// the temperature of the outgoing air.
double archimedes(double length, double excess, double speed) {
  return 9.80665 * length * excess / (speed * speed * (293.15 + excess));
}

/// Integral of f over a square of a half width around the axis at z = distance, midpoint rule.
template <class Integrand>
double over_section(double distance, double half, Integrand&& f) {
  constexpr int count = 160;
  double sum = 0.0;
  for (int i = 0; i < count; ++i) {
    for (int j = 0; j < count; ++j) {
      const double x = half * (2.0 * (i + 0.5) / count - 1.0), y = half * (2.0 * (j + 0.5) / count - 1.0);
      sum += f(Vector3d(x, y, distance));
    }
  }
  return sum * 4.0 * half * half / (count * count);
}

}  // namespace

TEST_CASE("jet: the handbook's throw example", "[outside:3]") {
  // ASHRAE Handbook - Fundamentals, ch. 20, Example 1, as transcribed publicly: core 0.28 x 0.43 m, 80 %
  // free, 0.3 m3/s, K 5.7: 0.75 m/s at 7 m, 0.5 at 11 m, 0.25 at 22 m (printed to whole metres).
  const Jet jet(outlet(0.43, 0.28, 0.8, 0.3));
  CHECK(low_reynolds_share(jet.reynolds()) == 1.0);
  const auto throw_to = [&](double speed) {
    double s = 1.0;
    while (jet.at(s).speed > speed) s += 0.01;
    return s;
  };
  CHECK(std::round(throw_to(0.75)) == 7.0);
  CHECK(std::round(throw_to(0.50)) == 11.0);
  CHECK(std::round(throw_to(0.25)) == 22.0);
}

TEST_CASE("jet: core, slot zone and distant zone of the handbook", "[outside:2][echo:2]") {
  // ASHRAE ch. 20, eqs. 2-4: core at 1.0 to 1.2 times the face velocity, behind a slot sqrt(K H/X) with K = 6
  // (free jet from a slot; here one constant 5.7 serves, 2.5 % lower), far out K sqrt(A)/X.
  const double speed = 3.0;
  const Jet jet(outlet(2.0, 0.1, 1.0, 0.2 * speed));
  CHECK(low_reynolds_share(jet.reynolds()) == 1.0);
  CHECK(jet.at(0.0).speed == Approx(speed).epsilon(1e-12));
  CHECK(jet.at(0.1).speed == Approx(speed).epsilon(0.01));
  for (const double x : {3.0, 4.0, 5.0}) {  // well behind the core, which ends at 0.57 m
    CHECK(jet.at(x).speed == Approx(speed * std::sqrt(6.0 * 0.1 / x)).epsilon(0.035));
  }
  for (const double x : {40.0, 60.0}) {
    CHECK(jet.at(x).speed == Approx(5.7 * speed * std::sqrt(0.2) / x).epsilon(0.02));
  }
  // Perforated panel (eq. 2): the merged core is no faster than 1.2 times the face velocity.
  const Jet panel(outlet(0.3, 0.3, 0.3, 0.09 * speed));
  CHECK(panel.at(0.05).speed == Approx(1.2 * speed).epsilon(1e-9));
}

TEST_CASE("jet: profile and entrainment of the handbook", "[outside:3]") {
  // ASHRAE ch. 20, eq. 6: (r/r_half)^2 = 3.3 log10(Vx/V); eq. 8: Q/Q0 = 2 V0/Vx, for a slot sqrt2 V0/Vx.
  const double speed = 3.0;
  const Jet jet(outlet(0.2, 0.2, 1.0, 0.04 * speed));
  const double x = 8.0;
  const auto at = [&](double r) { return jet.at_point({r, 0.0, x}).velocity.norm(); };
  const double centre = at(0.0);
  double half = 0.01;
  while (at(half) > 0.5 * centre) half += 1e-4;
  for (const double r : {0.5, 1.0, 1.5, 2.0}) {
    CHECK(r * r == Approx(3.3 * std::log10(centre / at(r * half))).epsilon(0.02));
  }
  CHECK(jet.at(x).flow / 0.12 == Approx(2.0 * speed / centre).epsilon(0.02));
  const Jet wide(outlet(4.0, 0.1, 1.0, 0.4 * speed));
  CHECK(wide.at(2.0).flow / 1.2 == Approx(std::sqrt(2.0) * speed / wide.at(2.0).speed).epsilon(0.05));
}

TEST_CASE("jet: momentum and warmth are kept along the way") {
  // Balances: integral of U^2 is that of the outlet, Q^2/(A f); integral of U dT is Q0 dT0.
  const double flow = 0.02;
  Outlet out = outlet(0.12, 0.04, 0.6, flow);
  out.temperature = out.room_temperature + 10.0;  // without gravity: carried along only
  const Jet jet(out);
  const double momentum = flow * flow / (out.face.area() * 0.6);
  for (const double z : {0.4, 1.0, 3.0}) {
    const double half = 0.1 + 8.0 * jet.at(z).width;
    const auto square = [&](const Vector3d& p) { return jet.at_point(p).velocity.squaredNorm(); };
    CHECK(over_section(z, half, square) == Approx(momentum).epsilon(5e-3));
    CHECK(jet.at(z).momentum == Approx(momentum).epsilon(1e-12));
    const auto volume = [&](const Vector3d& p) { return jet.at_point(p).velocity.norm(); };
    CHECK(over_section(z, half, volume) == Approx(jet.at(z).flow).epsilon(0.01));
  }
  const auto warmth = [&](const Vector3d& p) {
    const JetAir air = jet.at_point(p);
    return air.velocity.norm() * air.temperature_excess;
  };
  CHECK(over_section(3.0, 0.1 + 8.0 * jet.at(3.0).width, warmth) == Approx(flow * 10.0).epsilon(0.03));
}

TEST_CASE("jet: small vents lose their speed sooner", "[echo:2]") {
  // Abdel-Rahman, Al-Fahed & Chakroun (1996), abstract: decay constants 6.11 at Re 19 400, 1.35 at Re 1430.
  CHECK(low_reynolds_share(19400.0) == Approx(1.0));
  CHECK(low_reynolds_share(1430.0) == Approx(1.35 / 6.11).epsilon(1e-12));
  CHECK(low_reynolds_share(1e6) == 1.0);
  CHECK(low_reynolds_share(0.0) == Approx(1.35 / 6.11).epsilon(1e-12));
  CHECK(low_reynolds_share(5000.0) > low_reynolds_share(2000.0));
  CHECK(jet_uncertainty(1e5) == Approx(1.2));
  CHECK(jet_uncertainty(500.0) == Approx(2.0));
  // The slope of the decay behind the core is that constant: d(V0/V)/dX = 1/(K sqrt(A)).
  const double side = 0.01, speed = 1430.0 * 1.516e-5 / side;
  const Jet jet(outlet(side, side, 1.0, side * side * speed));
  CHECK(jet.reynolds() == Approx(1430.0).epsilon(0.01));
  const double slope = (speed / jet.at(0.5).speed - speed / jet.at(0.3).speed) / 0.2;
  CHECK(slope == Approx(1.0 / (5.7 * low_reynolds_share(jet.reynolds()) * side)).epsilon(0.01));
  // Its core is as long as that of a fast jet.
  CHECK(jet.at(4.0 * side).speed > 0.85 * speed);
}

TEST_CASE("jet: warmth bends it upwards, the same in any pose") {
  // Derived (docs/theory.md, I5): for a little buoyancy y'' = k b/(U M), with the speed U and k of a straight
  // jet, here added up in fine steps; far out it tends to y = k Ar/(6 K) (s/L)^3 L, k = 1 + 1.2^2.
  const Outlet out = warm(1.0, 4.0);
  const Jet jet(out);
  const double length = 0.2, number = archimedes(length, 1.0, 4.0);
  const double s = 30.0 * length;
  const double rise = jet.at(s).position.y();
  double slope = 0.0, height = 0.0;
  const double step = 1e-3, spread = 1.0 / (std::sqrt(2.0 * 3.14159265358979) * 5.7);
  for (double x = 0.5 * step; x < s; x += step) {
    const double u = std::erf(length / (2.0 * std::sqrt(2.0) * spread * x));
    slope += step * (1.0 + 1.44 * (1.0 - u * u)) * number / (u * length);
    height += step * slope;
  }
  CHECK(rise == Approx(height).epsilon(0.02));
  const Jet weak(warm(0.05, 4.0));
  CHECK(
      weak.at(150.0 * length).position.y() ==
      Approx(2.44 * archimedes(length, 0.05, 4.0) / (6.0 * 5.7) * std::pow(150.0, 3) * length).epsilon(0.03));

  // Cold air sinks as warm air rises.
  const Jet cold(warm(-1.0, 4.0));
  CHECK(cold.at(s).position.y() == Approx(-rise).epsilon(0.02));
  // Gravity along x: the same path, turned.
  Outlet turned = out;
  turned.gravity = {-9.80665, 0.0, 0.0};
  CHECK(Jet(turned).at(s).position.x() == Approx(rise).epsilon(1e-9));
  // Without a difference it runs straight.
  CHECK(Jet(warm(0.0, 4.0)).at(s).position.head<2>().norm() == Approx(0.0).margin(1e-12));
}

TEST_CASE("jet: hot air blown down turns back, blown up it becomes a plume") {
  Outlet down = warm(30.0, 0.5);
  down.gravity = {0.0, 0.0, 9.80665};  // the vent faces down
  const Jet stopped(down);
  CHECK(stopped.sections().back().distance < 5.0);
  const double end = stopped.sections().back().distance;
  CHECK(stopped.at_point({0.0, 0.0, end + 0.5}).velocity.norm() == 0.0);

  Outlet up = warm(30.0, 1.5);
  up.gravity = {0.0, 0.0, -9.80665};
  const Jet plume(up);
  CHECK(plume.sections().back().distance == Approx(200.0 * 0.2));  // followed all the way
  // Derived (I5): dM/ds = k b/U and U = K sqrt(M)/s give U = K (3 k b/(4 K))^(1/3) s^(-1/3).
  const double b = 9.80665 * (1.0 - 293.15 / 323.15) * up.flow, s = 30.0;
  CHECK(plume.at(s).speed == Approx(5.7 * std::cbrt(0.75 * 2.44 * b / 5.7) / std::cbrt(s)).epsilon(0.05));
}

TEST_CASE("jet: the room's air is drawn in from the side") {
  // Derived: around a circle the inflow per length is the growth of the jet's flow.
  const Jet jet(outlet(0.05, 0.05, 1.0, 0.01));
  const double z = 1.0, r = 0.6;
  const Vector3d u = jet.at_point({r, 0.0, z}).entrainment;
  CHECK(u.x() < 0.0);
  const double growth = (jet.at(1.05).flow - jet.at(0.95).flow) / 0.1;
  CHECK(-u.x() * 2.0 * 3.14159265358979 * r == Approx(growth).epsilon(0.05));
  CHECK(jet.at_point({0.0, 0.0, z}).entrainment.norm() == Approx(0.0).margin(1e-12));
}

TEST_CASE("jet: wrong input is refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(Jet(outlet(0.1, 0.1, 1.0, 0.0)), std::invalid_argument);
  CHECK_THROWS_AS(Jet(outlet(0.1, -0.1, 1.0, 0.1)), std::invalid_argument);
  CHECK_THROWS_AS(Jet(outlet(0.1, 0.1, 0.0, 0.1)), std::invalid_argument);
  Outlet cold = outlet(0.1, 0.1, 1.0, 0.1);
  cold.temperature = 0.0;
  CHECK_THROWS_AS(Jet(cold), std::invalid_argument);
  Outlet falling = outlet(0.1, 0.1, 1.0, 0.1);
  falling.gravity = {0.0, nan, 0.0};
  CHECK_THROWS_AS(Jet(falling), std::invalid_argument);
  const Jet jet(outlet(0.1, 0.1, 1.0, 0.1));
  CHECK_THROWS_AS(jet.at(-0.1), std::invalid_argument);
  CHECK_THROWS_AS(jet.at_point({0.0, 0.0, -0.1}), std::invalid_argument);
  CHECK_THROWS_AS(low_reynolds_share(-1.0), std::invalid_argument);
}
