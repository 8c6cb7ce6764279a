#include "solver/physics/openings.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "solver/numerics/constants.hpp"
#include "solver/physics/face_law.hpp"

using namespace tuft::physics;
using tuft::numerics::kPi;

TEST_CASE("a thin hole contracts, a thick hole is filled again") {
  const double thin = 2.0 * sharp_rectangle({0.01, 0.01}, 0.0).inertial;
  const double thick = 2.0 * sharp_rectangle({0.01, 0.01}, 0.05).inertial;
  CHECK(thin == Approx(1.0 / (0.61 * 0.61)));
  CHECK(thick == Approx(flush_entry_loss + exit_loss).epsilon(1e-3));
  double before = thin;
  for (double t = 0.0005; t < 0.05; t += 0.0005) {
    const double k = 2.0 * sharp_rectangle({0.01, 0.01}, t).inertial;
    REQUIRE(k < before);
    before = k;
  }
}

// Idelchik's factor tau(l/d) of a thick-edged orifice, tau(0) = 1.35: 0.2 1.22, 0.4 1.10, 0.6 0.84, 0.8 0.42,
// 1.0 0.24, 1.4 0.10, 2.0 0.02 (table from memory: a cross-check, not the source).
TEST_CASE("the fit of the filling hole keeps to Idelchik's factor (from memory) within 0.1", "[memory:9]") {
  const double table[][2] = {{0.2, 1.22}, {0.4, 1.10}, {0.6, 0.84}, {0.8, 0.42},
                             {1.0, 0.24}, {1.4, 0.10}, {2.0, 0.02}};
  for (const auto& row : table) CHECK(free_jet_share(row[0]) == Approx(row[1] / 1.35).margin(0.1));
}

TEST_CASE("thickness adds developed friction") {
  CHECK(sharp_slot(0.002, 0.003).viscous - sharp_slot(0.002, 0.0).viscous ==
        Approx(12.0 * 0.003 / (0.002 * 0.002)));
}

TEST_CASE("a rectangle lies between the long slot and the round hole of its area") {
  const Opening slot{1.0, 1e-4};
  CHECK(sharp_rectangle(slot, 0.0).viscous == Approx(sharp_slot(1e-4, 0.0).viscous).epsilon(1e-3));
  CHECK(sharp_rectangle(slot, 5e-4).viscous == Approx(sharp_slot(1e-4, 5e-4).viscous).epsilon(1e-3));
  const double side = 0.004;
  const double equal_diameter = side * 2.0 / std::sqrt(kPi);
  CHECK(sharp_rectangle({side, side}, 0.0).viscous == Approx(6.0 * kPi / equal_diameter));
  CHECK(sharp_rectangle({0.004, 0.007}, 1e-3).viscous == sharp_rectangle({0.007, 0.004}, 1e-3).viscous);
}

TEST_CASE("openings without an extent are refused") {
  CHECK_THROWS_AS(sharp_slot(0.001, -0.001), std::invalid_argument);
  CHECK_THROWS_AS(sharp_rectangle({0.0, 0.01}, 0.001), std::invalid_argument);
}
