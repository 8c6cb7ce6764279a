// Exchange under heavier air (theory.md, E4).
#include "solver/numerics/constants.hpp"
#include "solver/physics/two_way_flow.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tuft::physics;

namespace {

using tuft::numerics::kPi;

StripLaw simple_strip(double alpha, double beta) { return {alpha, 0.0, beta, 0.0, 0.0, 0.0}; }

}  // namespace

TEST_CASE("Epstein's coefficient: thin plate, peak and long duct as the abstract of Epstein (1988) describes",
          "[memory:6]") {
  // Values of the formula from memory; the abstract (seen) gives four regimes and a peak, no numbers.
  CHECK(epstein_coefficient(0.01) == Approx(0.0550).epsilon(2e-3));
  CHECK(epstein_coefficient(0.5) == Approx(0.0931).epsilon(2e-3));
  CHECK(epstein_coefficient(2.0) == Approx(0.0652).epsilon(2e-3));
  CHECK(epstein_coefficient(10.0) == Approx(0.0100).epsilon(1e-2));
  CHECK(epstein_coefficient(0.6) > epstein_coefficient(0.5));
  CHECK(epstein_coefficient(0.6) > epstein_coefficient(0.7));
}

TEST_CASE("a bare opening exchanges as Epstein's law says", "[memory:1]") {
  const double diameter = 0.04, g = 9.81, density = 1.15, difference = 0.08;
  const double area = 0.25 * kPi * diameter * diameter;
  const ExchangeLaw law = exchange_law(area, 0.0);
  const double beta = 0.5 / (0.61 * 0.61) / density;
  const Exchange at = exchange_under_heavier_air(law, difference * g, simple_strip(1e-9, beta), 0.0);
  const double volume = 0.055 * std::sqrt(std::pow(diameter, 5) * g * difference / density);
  CHECK(at.flow == Approx(density * volume).epsilon(1e-6));
}

TEST_CASE("exchange is stopped by a through-flow of .20/.055 times itself, and by lighter air above",
          "[echo:2]") {
  const ExchangeLaw law = exchange_law(1e-3, 1e-3);
  const Exchange still = exchange_under_heavier_air(law, 0.5, simple_strip(1e-3, 1.2), 0.0);
  const double purge = 0.20 / 0.055 * still.flow;
  CHECK(exchange_under_heavier_air(law, 0.5, simple_strip(1e-3, 1.2), 1.001 * purge).flow == 0.0);
  CHECK(exchange_under_heavier_air(law, 0.5, simple_strip(1e-3, 1.2), 0.5 * purge).flow ==
        Approx(still.flow * std::pow(0.5, 2.3)).epsilon(1e-12));
  CHECK(exchange_under_heavier_air(law, -0.5, simple_strip(1e-3, 1.2), 0.0).flow == 0.0);
}

TEST_CASE(
    "a fine grille exchanges less than a bare opening, in proportion to its openness in the creeping limit") {
  const ExchangeLaw law = exchange_law(1e-3, 0.0);
  const double bare = exchange_under_heavier_air(law, 0.5, simple_strip(1e-6, 1.2), 0.0).flow;
  const double grille = exchange_under_heavier_air(law, 0.5, simple_strip(5.0, 1.2), 0.0).flow;
  const double finer = exchange_under_heavier_air(law, 0.5, simple_strip(10.0, 1.2), 0.0).flow;
  CHECK(grille < 0.1 * bare);
  CHECK(finer == Approx(0.5 * grille).epsilon(1e-3));
}

TEST_CASE("derivatives of the exchange agree with central differences") {
  const ExchangeLaw law = exchange_law(2e-3, 2e-3);
  const double load_inputs = 0.4, alpha = 0.03, beta = 1.1;
  const double still = exchange_under_heavier_air(law, load_inputs, simple_strip(alpha, beta), 0.0).flow;
  const double through = 1.7 * still;
  const Exchange at = exchange_under_heavier_air(law, load_inputs, simple_strip(alpha, beta), through);
  const auto value = [&](double d, double a, double b, double t) {
    return exchange_under_heavier_air(law, d, simple_strip(a, b), t).flow;
  };
  const double h = 1e-6;
  CHECK(at.d_drive ==
        Approx((value(load_inputs + h, alpha, beta, through) - value(load_inputs - h, alpha, beta, through)) /
               (2 * h))
            .epsilon(1e-6));
  CHECK(at.by.alpha ==
        Approx((value(load_inputs, alpha + h, beta, through) - value(load_inputs, alpha - h, beta, through)) /
               (2 * h))
            .epsilon(1e-6));
  CHECK(at.by.inertia / beta ==
        Approx((value(load_inputs, alpha, beta + h, through) - value(load_inputs, alpha, beta - h, through)) /
               (2 * h))
            .epsilon(1e-6));
  const double ht = 1e-4 * through;
  CHECK(at.d_through == Approx((value(load_inputs, alpha, beta, through + ht) -
                                value(load_inputs, alpha, beta, through - ht)) /
                               (2 * ht))
                            .epsilon(1e-6));
}
