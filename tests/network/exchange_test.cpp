// Exchange under heavier air (theory.md, E4).
#include "solver/numerics/constants.hpp"
#include "solver/physics/strip_law.hpp"
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

TEST_CASE("another law's exchange through a round hole lies within the doubt of Epstein's", "[outside:1]") {
  // Q = 0.1 sqrt(g' A^2.5): fire gases through a ceiling vent, as transcribed in public code, which names no
  // publication. Epstein's head may be up to 2.3 times as large (theory.md, D24).
  const double area = 5e-3, drive = 0.8, density = 1.15;
  const StripLaw strip = simple_strip(1e-9, 0.5 / (0.61 * 0.61) / density);
  const double other = density * 0.1 * std::sqrt(drive / density * std::pow(area, 2.5));
  ExchangeLaw law = exchange_law(area, 0.0);
  CHECK(exchange_under_heavier_air(law, drive, strip, 0.0).flow < other);
  law.head_per_drive *= 2.3;
  CHECK(exchange_under_heavier_air(law, drive, strip, 0.0).flow > other);
}

TEST_CASE("the column standing in two level openings stops their exchange from a depth of 0.50 widths on",
          "[derived:2]") {
  // theory.md, "What is not modelled": half of the column's head drives each opening; L = r^2 k/2 where
  // inertia resists and L = r k where friction does, with k at that depth.
  const double width = 0.02, area = 0.25 * kPi * width * width, drive = 0.8;
  const auto left = [&](const StripLaw& strip, double depth) {
    const double one_way = area * strip_flux(strip, 0.5 * drive * depth * width);
    return exchange_under_heavier_air(exchange_law(area, depth * width), drive, strip, one_way).flow;
  };
  const StripLaw inertia = simple_strip(1e-9, 1.2), friction = simple_strip(1.0, 1e-9);
  CHECK(left(inertia, 0.495) > 0.0);
  CHECK(left(inertia, 0.505) == 0.0);
  CHECK(left(friction, 0.109) > 0.0);
  CHECK(left(friction, 0.111) == 0.0);
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
