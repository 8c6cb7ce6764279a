#include "solver/uncertainty/normal.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tuft::uncertainty;

namespace {

/// Probability of a value of Student's t below t: the density (1 + t^2/n)^(-(n + 1)/2), as a function of the
/// angle atan(t/sqrt(n)), added up by Simpson's rule.
double student_below(double t, int degrees) {
  const long double n = degrees, pi = std::acos(-1.0L), angle = std::atan(t / std::sqrt(n));
  constexpr int kPanels = 20000;
  long double sum = 0.0L;
  for (int i = 0; i <= kPanels; ++i) {
    const long double weight = i == 0 || i == kPanels ? 1.0L : i % 2 == 1 ? 4.0L : 2.0L;
    sum += weight * std::pow(std::cos(angle * i / kPanels), n - 1.0L);
  }
  const long double whole = std::sqrt(pi) * std::exp(std::lgamma(0.5L * n) - std::lgamma(0.5L * (n + 1.0L)));
  return static_cast<double>(0.5L + sum * angle / kPanels / 3.0L / whole);
}

}  // namespace

TEST_CASE("the normal quantile inverts the cumulative function") {
  // Relative to the smaller tail; the derivative of log p by z is about -z far out, so that rounding of z
  // (1e-16 z) is seen as z^2 1e-16.
  for (double p = 1e-300; p < 0.5; p *= 3.0) {
    const double z = normal_quantile(p);
    INFO("p = " << p);
    CHECK(std::abs(normal_cumulative(z) / p - 1.0) < 1e-15 * (3.0 + z * z));
    CHECK(std::abs(normal_cumulative(z) - p) < 1e-12 * p);
  }
  for (double p = 0.001; p < 1.0; p += 0.001) {
    CHECK(std::abs(normal_cumulative(normal_quantile(p)) - p) < 1e-15);
  }
  for (double p = 0x1p-30; p < 0.5; p *= 2.0) CHECK(normal_quantile(1.0 - p) == -normal_quantile(p));
}

TEST_CASE("known normal quantiles") {
  // As computed by SciPy 1.10; the third is the 1.96 of every table.
  CHECK(normal_quantile(1e-10) == Approx(-6.361340902404056).epsilon(1e-14));
  CHECK(normal_quantile(1e-5) == Approx(-4.264890793922825).epsilon(1e-14));
  CHECK(normal_quantile(0.975) == Approx(1.959963984540054).epsilon(1e-14));
  CHECK(normal_quantile(0.3) == Approx(-0.5244005127080409).epsilon(1e-14));
  CHECK(normal_quantile(0.5) == 0.0);
  CHECK(kHalfWidth95 == Approx(normal_quantile(0.975)).epsilon(1e-15));
  CHECK_THROWS_WITH(normal_quantile(0.0), "probability = 0: must be > 0 and < 1");
  CHECK_THROWS_WITH(normal_quantile(1.0), "probability = 1: must be > 0 and < 1");
  CHECK_THROWS(normal_quantile(std::nan("")));
}

TEST_CASE("the log of the normal cumulative function stays finite") {
  // As computed by SciPy 1.10 on either side of the place where the series takes over.
  CHECK(log_normal_cumulative(-5.0) == Approx(-15.064998393988727).epsilon(1e-14));
  CHECK(log_normal_cumulative(-29.9) == Approx(-451.3229124585287).epsilon(1e-13));
  CHECK(log_normal_cumulative(-30.1) == Approx(-457.32956441638237).epsilon(1e-13));
  CHECK(log_normal_cumulative(-200.0) == Approx(-20006.21728089819).epsilon(1e-13));
  CHECK(std::isfinite(log_normal_cumulative(-1e100)));
}

TEST_CASE("Student's t against its closed forms and the tables") {
  // One degree: Cauchy, tan(pi (p - 1/2)); two: t/sqrt(2 + t^2) (derived).
  for (const double t : {-3.0, -0.4, 0.0, 0.7, 5.0}) {
    CHECK(student_quantile(0.5 + std::atan(t) / std::acos(-1.0), 1) ==
          Approx(t).epsilon(1e-13).margin(1e-15));
    CHECK(student_quantile(0.5 + 0.5 * t / std::sqrt(2.0 + t * t), 2) ==
          Approx(t).epsilon(1e-13).margin(1e-15));
  }
  CHECK(student_quantile(0.8870468136634754, 9) == Approx(1.3).epsilon(1e-13));  // SciPy 1.10
  // Tables of upper critical values, one tail 0.005, in the NIST/SEMATECH e-Handbook (as transcribed).
  CHECK(student_quantile(0.995, 1) == Approx(63.657).margin(5e-4));
  CHECK(student_quantile(0.995, 7) == Approx(3.499).margin(5e-4));
  CHECK(student_quantile(0.995, 15) == Approx(2.947).margin(5e-4));
  // Of numbers that are exactly each other's complement, which 0.005 and 0.995 are not.
  CHECK(student_quantile(0x1p-7, 15) == -student_quantile(1.0 - 0x1p-7, 15));
  CHECK(student_quantile(0.5, 4) == 0.0);
  for (const int degrees : {1, 2, 3, 10, 31}) {
    CHECK(student_below(student_quantile(0.83, degrees), degrees) == Approx(0.83).epsilon(1e-14));
  }
  // Many degrees: normal, off by about z^3/(4 n).
  CHECK(student_quantile(0.975, 100000) == Approx(1.959963984540054).epsilon(2e-5));
  CHECK_THROWS_WITH(student_quantile(0.5, 0), "degrees of freedom = 0: must be 1 or more");
  CHECK_THROWS_WITH(student_quantile(1.0, 3), "probability = 1: must be > 0 and < 1");
}
