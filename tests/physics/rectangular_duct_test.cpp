// Friction and developing loss of a rectangular duct against the exact velocity profile, summed here.
#include "solver/numerics/constants.hpp"
#include "solver/physics/openings.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tuft::physics;

namespace {

using tuft::numerics::kPi;

struct Profile {
  double friction = 0.0;     ///< f Re
  double development = 0.0;  ///< 2 (Ke - Kd)
};

/// Velocity of a duct of sides 1 and a (|x| < 1/2, |y| < a/2) under unit pressure gradient and viscosity.
double velocity(double a, double x, double y) {
  double u = 0.5 * (0.25 * a * a - y * y);
  for (int n = 1; n < 80; n += 2) {
    const double k = n * kPi / a;
    const double sign = (n - 1) / 2 % 2 == 0 ? 1.0 : -1.0;
    // cosh(k x)/cosh(k/2) without overflow, x >= 0
    const double ratio = std::exp(k * (x - 0.5)) * (1.0 + std::exp(-2.0 * k * x)) / (1.0 + std::exp(-k));
    u -= 4.0 * a * a / (kPi * kPi * kPi * n * n * n) * sign * std::cos(k * y) * ratio;
  }
  return u;
}

/// Midpoint rule over a quarter of the section.
Profile integrate(double a) {
  const int n = 160;
  double u1 = 0.0, u2 = 0.0, u3 = 0.0;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const double u = velocity(a, 0.5 * (i + 0.5) / n, 0.5 * a * (j + 0.5) / n);
      u1 += u, u2 += u * u, u3 += u * u * u;
    }
  }
  u1 /= n * n, u2 /= n * n, u3 /= n * n;
  const double dh = 2.0 * a / (1.0 + a);
  return {0.5 * dh * dh / u1, 2.0 * (u3 / (u1 * u1 * u1) - u2 / (u1 * u1))};
}

}  // namespace

TEST_CASE("friction and developing loss meet the integrated profile (derived)") {
  for (const double a : {0.1, 0.25, 0.5, 0.75, 1.0}) {
    INFO("aspect " << a);
    const Profile exact = integrate(a);
    CHECK(friction_constant(a) == Approx(exact.friction).epsilon(1e-3));
    CHECK(development_loss(a) == Approx(exact.development).margin(4e-3));
  }
}

TEST_CASE("between plates both are exact (derived from the parabola)") {
  CHECK(friction_constant(0.0) == 24.0);
  CHECK(development_loss(0.0) == Approx(2.0 * (54.0 / 35.0 - 6.0 / 5.0)).epsilon(1e-14));
  // Plane Poiseuille flow: dp = 12 mu w l / h^2.
  CHECK(duct_friction(1e-3, 1e3, 0.02) == Approx(12.0 * 0.02 / 1e-6).epsilon(1e-5));
}
