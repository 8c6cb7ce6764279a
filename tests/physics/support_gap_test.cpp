#include "solver/physics/openings.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

using namespace tuft::physics;

TEST_CASE("the mean width is the one of the same lubrication resistance") {
  const double a = 0.05, b = 0.18, l = 0.07;
  double resistance = 0.0;  // integral of dx / width, midpoint rule
  const int n = 20000;
  for (int i = 0; i < n; ++i) resistance += l / n / (a + (b - a) * (i + 0.5) / n);
  CHECK(l / gap_mean_width(a, b) == Approx(resistance).epsilon(1e-8));
  CHECK(gap_mean_width(a, b) == Approx(gap_mean_width(b, a)).epsilon(1e-14));
  CHECK(gap_mean_width(a, a) == Approx(a).epsilon(1e-15));
}

TEST_CASE("the mean width is smooth where the two widths meet") {
  for (double e = 1e-3; e > 1e-8; e *= 0.1) {
    // (b - a)/ln(b/a) = a (1 + e/2 - e^2/12 + e^3/24 ...) for b = a (1 + e)
    CHECK(gap_mean_width(1.0, 1.0 + e) == Approx(1.0 + e / 2.0 - e * e / 12.0).epsilon(1e-9));
  }
}

TEST_CASE("a straight gap is plane lubrication: dp = 12 mu m l / (rho b h^3)") {
  const GapPath path{2e-3, 0.06, 0.1, 0.1};
  const FaceLaw law = support_gap(path);
  const double mu = 1.8e-5, rho = 1.2, m = 1e-5;
  const double w = m / (rho * path.face_area());
  CHECK(law.viscous * mu * w == Approx(12.0 * mu * m * 0.06 / (rho * 0.1 * 8e-9)));
}

TEST_CASE("the gap's resistance goes with the inverse cube of its height") {
  const auto per_flow = [](double h) {
    const GapPath path{h, 0.06, 0.1, 0.2};
    return support_gap(path).viscous / path.face_area();
  };
  CHECK(per_flow(1e-3) == Approx(8.0 * per_flow(2e-3)));
}

TEST_CASE("fast flow in a gap: a turn and development at the vent, half of entry and exit at the edge") {
  const FaceLaw law = support_gap({2e-3, 0.06, 0.1, 0.2});
  const double at_vent = 1.15 + 24.0 / 35.0;
  const double at_edge = 0.5 * (0.49 + 1.0) * 0.25;  // half the velocity
  CHECK(2.0 * law.inertial == Approx(at_vent + at_edge));
}

TEST_CASE("a gap that widens loses less than a straight one") {
  const FaceLaw straight = support_gap({2e-3, 0.06, 0.1, 0.1});
  const FaceLaw widening = support_gap({2e-3, 0.06, 0.1, 0.3});
  CHECK(widening.viscous < straight.viscous);
  CHECK(widening.inertial < straight.inertial);
}

TEST_CASE("gaps that cannot be are refused") {
  CHECK_THROWS_AS(support_gap({0.0, 0.06, 0.1, 0.1}), std::invalid_argument);
  CHECK_THROWS_AS(support_gap({1e-3, -0.06, 0.1, 0.1}), std::invalid_argument);
  CHECK_THROWS_AS(support_gap({1e-3, 0.06, 0.0, 0.1}), std::invalid_argument);
}
