// The integral law of an opening with height (theory.md, E3).
#include "solver/physics/two_way_flow.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tuft::physics;

namespace {

double net(double head, double span, const FluxLaw& law) {
  return gross_flux(head, span, law.alpha, law.beta_forward).flux -
         gross_flux(-head, span, law.alpha, law.beta_backward).flux;
}

// Strip-by-strip forward flux.
double forward_by_strips(double head, double span, double alpha, double beta) {
  constexpr int n = 200000;
  double sum = 0.0;
  for (int i = 0; i < n; ++i) {
    const double x = head + span * ((i + 0.5) / n - 0.5);
    if (x > 0.0) sum += (-alpha + std::sqrt(alpha * alpha + 4.0 * beta * x)) / (2.0 * beta);
  }
  return sum / n;
}

}  // namespace

TEST_CASE("gross flux of a tall opening equals the sum over its strips") {
  for (double head : {-0.03, -0.004, 0.0, 0.004, 0.03}) {
    for (double span : {0.002, 0.02, 0.2}) {
      INFO("head " << head << " span " << span);
      const double closed = gross_flux(head, span, 0.05, 1.3).flux;
      CHECK(closed == Approx(forward_by_strips(head, span, 0.05, 1.3)).epsilon(1e-6).margin(1e-9));
    }
  }
}

TEST_CASE("without inertia the mean flux is the mean head over alpha") {
  CHECK(gross_flux(0.3, 0.2, 2.0, 0.0).flux == Approx(0.15).epsilon(1e-14));
  CHECK(gross_flux(0.0, 0.2, 2.0, 0.0).flux == Approx(0.05 / 2.0 / 2.0).epsilon(1e-14));
}

TEST_CASE("the law is continuous where the neutral line enters the opening, and as the span vanishes") {
  const FluxLaw law{0.02, 1.1, 1.2};
  const double span = 0.01;
  for (double edge : {-0.5 * span, 0.5 * span}) {
    const double below = net(edge - 1e-12, span, law);
    const double above = net(edge + 1e-12, span, law);
    CHECK(above == Approx(below).epsilon(1e-8));
  }
  const double thin = net(0.013, 1e-13, law);
  CHECK(thin == Approx(opening_at_flux(thin, 0.0, law).forward.flux).epsilon(1e-12));
  CHECK(opening_at_flux(thin, 0.0, law).head == Approx(0.013).epsilon(1e-11));
}

TEST_CASE("derivatives of the gross flux agree with central differences") {
  const double alpha = 0.04, beta = 0.9;
  for (double head : {-0.02, -0.003, 0.0004, 0.003, 0.02}) {
    for (double span : {1e-3, 0.01, 0.03}) {
      INFO("head " << head << " span " << span);
      const GrossFlux at = gross_flux(head, span, alpha, beta);
      const auto by = [&](double dh, double ds, double da, double db, double step) {
        return (gross_flux(head + dh, span + ds, alpha + da, beta + db).flux -
                gross_flux(head - dh, span - ds, alpha - da, beta - db).flux) /
               (2.0 * step);
      };
      CHECK(at.d_head == Approx(by(1e-7, 0, 0, 0, 1e-7)).epsilon(1e-5).margin(1e-7));
      CHECK(at.d_span == Approx(by(0, 1e-7, 0, 0, 1e-7)).epsilon(1e-4).margin(1e-6));
      CHECK(at.d_alpha == Approx(by(0, 0, 1e-7, 0, 1e-7)).epsilon(1e-5).margin(1e-8));
      CHECK(at.d_beta == Approx(by(0, 0, 0, 1e-6, 1e-6)).epsilon(1e-5).margin(1e-9));
    }
  }
}

TEST_CASE("the head at a flux inverts the law over many decades") {
  for (double alpha : {1e-6, 1e-2, 10.0}) {
    for (double span : {0.0, 1e-6, 1e-2, 1.0}) {
      for (double flux : {-3.0, -1e-3, -1e-9, 0.0, 1e-7, 1e-2, 5.0}) {
        const FluxLaw law{alpha, 2.0, 2.3};
        const OpeningState at = opening_at_flux(flux, span, law);
        INFO("alpha " << alpha << " span " << span << " flux " << flux);
        const double scale = std::abs(flux) + at.forward.flux;
        CHECK(at.forward.flux - at.backward.flux == Approx(flux).margin(1e-11 * scale));
        CHECK(at.slope > 0.0);
        if (span > 0.0) CHECK(net(at.head, span, law) == Approx(flux).margin(1e-11 * scale));
      }
    }
  }
}

TEST_CASE("equivalent span is exact along one side and invariant to which side that is") {
  CHECK(equivalent_span(0.3, 0.0) == 0.3);
  CHECK(equivalent_span(0.0, -0.3) == 0.3);
  // Variance of the sum of two independent uniform heads, (a^2 + b^2) / 12.
  CHECK(equivalent_span(3.0, 4.0) == Approx(5.0));
}
