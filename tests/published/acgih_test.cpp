// ACGIH, "Industrial Ventilation - A Manual of Recommended Practice", 24th ed. (2001), fig. 3-16, hood entry
// losses in velocity pressures. Confirmed in a transcription of the figure.
#include <catch2/catch.hpp>

#include "solver/physics/openings.hpp"

using namespace tuft::physics;

TEST_CASE("ACGIH fig. 3-16: sharp-edged orifice 1.78, and the jet's own head (confirmed)", "[outside:1]") {
  // Ours puts the whole loss into the hole: entry 1.78 VP + 1 VP thrown away behind it = 2.78. Discharge
  // coefficients of 0.60 and 0.61 differ by as much as our 3.4 %.
  CHECK(2.0 * sharp_rectangle({0.01, 0.01}, 0.0).inertial == Approx(2.78).epsilon(0.04));
}

TEST_CASE("ACGIH fig. 3-16: flanged opening 0.49 (confirmed)", "[echo:1]") {
  // A long passage: what is left of its inertial loss without exit (1) and developing length.
  const double k = 2.0 * passage({0.05, 0.005, 0.5, 0.0}).inertial;
  CHECK(k - 1.0 - development_loss(0.1) == Approx(0.49).epsilon(1e-4));
}
