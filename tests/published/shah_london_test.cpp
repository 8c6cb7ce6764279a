// Shah R.K., London A.L., "Laminar Flow Forced Convection in Ducts", Academic Press 1978: f Re of rectangular
// ducts. The polynomial is confirmed in public code; the table is from memory, checked by an independent
// finite-volume computation (14.225, 15.545, 17.086, 18.229, 20.577) and by the series in
// tests/physics/rectangular_duct_test.cpp.
#include <catch2/catch.hpp>

#include "solver/physics/openings.hpp"

using namespace tuft::physics;

TEST_CASE("Shah & London: f Re by aspect (from memory, checked)", "[memory:6]") {
  const double table[][2] = {{1.0, 14.227},  {0.5, 15.548},   {1.0 / 3.0, 17.090},
                             {0.25, 18.233}, {0.125, 20.585}, {0.0, 24.0}};
  for (const auto& row : table) {
    INFO("aspect " << row[0]);
    CHECK(friction_constant(row[0]) == Approx(row[1]).epsilon(1e-3));
  }
}

TEST_CASE("Shah & London: pressure drop of a passage 1 : 4, f Re 18.233 (from memory, checked)",
          "[memory:1]") {
  const double a = 0.004, b = 0.016, l = 0.4, dh = 2.0 * a * b / (a + b);
  const double friction = passage({b, a, l, 0.0}).viscous - sharp_rectangle({b, a}, 0.0).viscous;
  CHECK(friction == Approx(2.0 * 18.233 * l / (dh * dh)).epsilon(1e-3));
}

// K(inf) of Lundgren, Sparrow & Starr (1964) J. Basic Eng. 86:620: plates 0.686 (derived), square 1.552 (from
// memory; the series agrees).
TEST_CASE("Lundgren et al.: developing loss, plates 0.686 (derived), square 1.552 (from memory, checked)",
          "[derived:1][memory:1]") {
  CHECK(development_loss(0.0) == Approx(0.686).epsilon(1e-3));
  CHECK(development_loss(1.0) == Approx(1.552).margin(4e-3));
}
