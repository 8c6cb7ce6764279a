// Shah R.K., London A.L., "Laminar Flow Forced Convection in Ducts", Academic Press 1978: heat transfer in
// rectangular channels. The polynomials are confirmed in public code; the table by aspect is from memory,
// checked by an independent finite-volume computation
// (2.978, 3.393, 3.958, 4.441, 5.595; 3.608, 4.124, 4.796, 5.332, 6.493).
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/elements/channel_nusselt.hpp"

using namespace tuft::elements;

TEST_CASE("Shah & London: developed Nu by aspect, one temperature and H1 (from memory, checked)") {
  const double table[][3] = {{1.0, 2.976, 3.608},  {0.5, 3.391, 4.123},   {1.0 / 3.0, 3.956, 4.795},
                             {0.25, 4.439, 5.331}, {0.125, 5.597, 6.490}, {0.0, 7.541, 8.235}};
  for (const auto& row : table) {
    INFO("aspect " << row[0]);
    CHECK(developed_nusselt(row[0]) == Approx(row[1]).epsilon(3e-3));
    CHECK(developed_nusselt_uniform_flux(row[0]) == Approx(row[2]).epsilon(3e-3));
  }
}

TEST_CASE("Shah & London: H1 polynomial at aspect 0.7, 3.75176 (confirmed in public code)") {
  CHECK(developed_nusselt_uniform_flux(0.7) == Approx(3.75176).epsilon(1e-5));
}

TEST_CASE(
    "Shah & London: mean Nu from the entry between plates, uniform flux (confirmed, Bejan & Kraus 5.40)") {
  for (double x = 1e-4; x < 1.0; x *= 1.3) {
    INFO("x* " << x);
    const double layer = 2.236 / std::cbrt(x);
    const double published = x <= 0.001 ? layer : x < 0.01 ? layer + 0.90 : 8.235 + 0.0364 / x;
    CHECK(channel_nusselt_uniform_flux(0.0, 1.0 / x).value == Approx(published).epsilon(0.05));
  }
}

TEST_CASE("Shah & London: mean Nu from the entry between plates, one temperature (from memory)") {
  for (double x = 1e-4; x < 1.0; x *= 1.3) {
    INFO("x* " << x);
    const double layer = 1.849 / std::cbrt(x);
    const double published = x <= 0.0005 ? layer : x <= 0.006 ? layer + 0.6 : 7.541 + 0.0235 / x;
    CHECK(channel_nusselt(0.0, 1.0 / x, 0.7, Entry::Developed).value == Approx(published).epsilon(0.05));
  }
}
