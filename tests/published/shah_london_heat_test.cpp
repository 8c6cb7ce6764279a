// Shah R.K., London A.L., "Laminar Flow Forced Convection in Ducts", Academic Press 1978: heat transfer in
// rectangular channels. The polynomial is confirmed in public code; the table by aspect is from memory,
// checked by an independent finite-volume computation (2.978, 3.393, 3.958, 4.441, 5.595).
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/fin_heat.hpp"

using namespace tuft::physics;

TEST_CASE("Shah & London: developed Nu by aspect, walls of one temperature (from memory, checked)",
          "[memory:6]") {
  const double table[][2] = {{1.0, 2.976},  {0.5, 3.391},   {1.0 / 3.0, 3.956},
                             {0.25, 4.439}, {0.125, 5.597}, {0.0, 7.541}};
  for (const auto& row : table) {
    INFO("aspect " << row[0]);
    CHECK(developed_nusselt(row[0]) == Approx(row[1]).epsilon(3e-3));
  }
}

TEST_CASE("Shah & London: mean Nu from the entry between plates, one temperature (from memory)",
          "[memory:1]") {
  for (double x = 1e-4; x < 1.0; x *= 1.3) {
    INFO("x* " << x);
    const double layer = 1.849 / std::cbrt(x);
    const double published = x <= 0.0005 ? layer : x <= 0.006 ? layer + 0.6 : 7.541 + 0.0235 / x;
    CHECK(channel_nusselt(0.0, 1.0 / x, 0.7, Entry::developed).value == Approx(published).epsilon(0.05));
  }
}
