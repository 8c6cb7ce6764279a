// The integral law of an opening with height (theory.md, E3).
#include "solver/physics/two_way_flow.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tuft::physics;

namespace {

double net(double head, double span, const FluxLaw& law) {
  return gross_flux(head, span, law.forward).flux - gross_flux(-head, span, law.backward).flux;
}

// With an inertial part from the start, from a first and from a second onset.
StripLaw strip(double alpha, double beta) {
  return {alpha, 0.1 * alpha, 0.3 * beta, 0.5 * beta, 0.2 * beta, 0.03};
}

FluxLaw both(double alpha, double beta_forward, double beta_backward) {
  StripLaw backward = strip(alpha, beta_backward);
  backward.upstream = -backward.upstream;
  backward.onset *= 1.1;
  return {strip(alpha, beta_forward), backward};
}

// Strip-by-strip forward flux, each by bisection.
double forward_by_strips(double head, double span, const StripLaw& law) {
  constexpr int n = 20000;
  double sum = 0.0;
  for (int i = 0; i < n; ++i) {
    const double x = head + span * ((i + 0.5) / n - 0.5);
    if (!(x > 0.0)) continue;
    double low = 0.0, high = x / law.alpha;
    for (int k = 0; k < 50; ++k) {
      const double middle = 0.5 * (low + high);
      (strip_head(law, middle) < x ? low : high) = middle;
    }
    sum += low;
  }
  return sum / n;
}

}  // namespace

TEST_CASE("gross flux of a tall opening equals the sum over its strips") {
  for (const StripLaw& law : {strip(0.05, 1.3), StripLaw{0.05, 0.0, 1.3, 0.0, 0.0, 0.0}})
    for (double head : {-0.03, -0.004, 0.0, 0.004, 0.03}) {
      for (double span : {0.002, 0.02, 0.2}) {
        INFO("head " << head << " span " << span << " onset " << law.onset);
        const double closed = gross_flux(head, span, law).flux;
        CHECK(closed == Approx(forward_by_strips(head, span, law)).epsilon(3e-6).margin(1e-8));
      }
    }
}

TEST_CASE("without inertia the mean flux is the mean head over alpha") {
  const StripLaw law{2.0, 0.0, 0.0, 0.0, 0.0, 0.0};
  CHECK(gross_flux(0.3, 0.2, law).flux == Approx(0.15).epsilon(1e-14));
  CHECK(gross_flux(0.0, 0.2, law).flux == Approx(0.05 / 2.0 / 2.0).epsilon(1e-14));
}

TEST_CASE("the law is continuous where the neutral line enters the opening, and as the span vanishes") {
  const FluxLaw law = both(0.02, 1.1, 1.2);
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

namespace {

/// The law with one of its parts moved: 0 alpha, 1 upstream, 2 the logarithm of all inertia, 3 that of the
/// onset.
StripLaw moved(StripLaw law, int part, double by) {
  const double factor = std::exp(by);
  if (part == 0) law.alpha += by;
  if (part == 1) law.upstream += by;
  if (part == 2) law.beta *= factor, law.early *= factor, law.late *= factor;
  if (part == 3) law.onset *= factor;
  return law;
}

double part_of(const ByLaw& by, int part) {
  const double parts[] = {by.alpha, by.upstream, by.inertia, by.onset};
  return parts[part];
}

}  // namespace

TEST_CASE("derivatives of the gross flux agree with central differences") {
  const StripLaw law = strip(0.04, 0.9);
  for (double head : {-0.02, -0.003, 0.0004, 0.003, 0.02}) {
    for (double span : {1e-3, 0.01, 0.03}) {
      INFO("head " << head << " span " << span);
      const GrossFlux at = gross_flux(head, span, law);
      const auto by = [&](double dh, double ds, double step) {
        return (gross_flux(head + dh, span + ds, law).flux - gross_flux(head - dh, span - ds, law).flux) /
               (2.0 * step);
      };
      CHECK(at.d_head == Approx(by(1e-7, 0, 1e-7)).epsilon(1e-5).margin(1e-7));
      CHECK(at.d_span == Approx(by(0, 1e-7, 1e-7)).epsilon(1e-4).margin(1e-6));
      for (int part = 0; part < 4; ++part) {
        const double h = 1e-5;
        const double difference = (gross_flux(head, span, moved(law, part, h)).flux -
                                   gross_flux(head, span, moved(law, part, -h)).flux) /
                                  (2.0 * h);
        INFO("part " << part);
        CHECK(part_of(at.by, part) == Approx(difference).epsilon(1e-5).margin(1e-9));
      }
    }
  }
}

TEST_CASE("the head at a flux inverts the law over many decades, with its derivatives by the law") {
  for (double alpha : {1e-6, 1e-2, 10.0}) {
    for (double span : {0.0, 1e-6, 1e-2, 1.0}) {
      for (double flux : {-3.0, -1e-3, -1e-9, 0.0, 1e-7, 1e-2, 5.0}) {
        const FluxLaw law = both(alpha, 2.0, 2.3);
        const OpeningState at = opening_at_flux(flux, span, law);
        INFO("alpha " << alpha << " span " << span << " flux " << flux);
        const double scale = std::abs(flux) + at.forward.flux;
        CHECK(at.forward.flux - at.backward.flux == Approx(flux).margin(1e-11 * scale));
        CHECK(at.slope > 0.0);
        if (span > 0.0) CHECK(net(at.head, span, law) == Approx(flux).margin(1e-11 * scale));
        for (int part = 2; part < 4; ++part) {
          const double h = 1e-4;
          const auto head = [&](double forward, double backward) {
            return opening_at_flux(flux, span,
                                   {moved(law.forward, part, forward), moved(law.backward, part, backward)})
                .head;
          };
          const double unit = 1e-8 * (std::abs(at.head) + span);
          CHECK(part_of(at.by.forward, part) ==
                Approx((head(h, 0) - head(-h, 0)) / (2 * h)).epsilon(1e-5).margin(unit));
          CHECK(part_of(at.by.backward, part) ==
                Approx((head(0, h) - head(0, -h)) / (2 * h)).epsilon(1e-5).margin(unit));
        }
      }
    }
  }
}

TEST_CASE("a strip's head rises with the flux, smoothly from rest, and its flux inverts it") {
  const StripLaw law = strip(1e-3, 2.0);
  double before = 0.0;
  for (double j = 1e-8; j < 100.0; j *= 1.01) {
    const double head = strip_head(law, j);
    REQUIRE(head > before);
    before = head;
    REQUIRE(strip_flux(law, head) == Approx(j).epsilon(1e-12));
    REQUIRE(strip_slope(law, j) ==
            Approx((strip_head(law, 1.0001 * j) - strip_head(law, 0.9999 * j)) / (2e-4 * j)).epsilon(1e-6));
  }
  CHECK(strip_slope(law, 0.0) == law.alpha);
  CHECK(strip_slope(law, 1e-8) == Approx(law.alpha).epsilon(1e-4));
}

TEST_CASE("equivalent span is exact along one side and invariant to which side that is") {
  CHECK(equivalent_span(0.3, 0.0) == 0.3);
  CHECK(equivalent_span(0.0, -0.3) == 0.3);
  // Variance of the sum of two independent uniform heads, (a^2 + b^2) / 12.
  CHECK(equivalent_span(3.0, 4.0) == Approx(5.0));
}
