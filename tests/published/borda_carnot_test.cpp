// Borda-Carnot: loss of a sudden widening, (1 - A1/A2)^2 (derived from the momentum balance; diameter ratio
// 0.5 gives 0.5625, confirmed by python3-fluids diffuser_sharp).
#include <catch2/catch.hpp>

#include "solver/physics/cover.hpp"
#include "solver/physics/face_law.hpp"
#include "solver/physics/fin_heat.hpp"
#include "solver/physics/openings.hpp"

using namespace tuft::physics;

TEST_CASE("Borda-Carnot: diameters 1 : 2 lose 0.5625 of the velocity head (derived, confirmed)", "[echo:1]") {
  CHECK(widening_loss(0.25) == 0.5625);
  CHECK(widening_loss(1.0) == 0.0);
}

TEST_CASE("Borda-Carnot: widening behind fins that fill a quarter of the face (derived)", "[derived:1]") {
  const FinChannels fins{20.0, 1e-3, 1e-2, 1e-2};
  const double on_channels = 2.0 * fin_stack(fins, 4.0 * fins.area()).inertial / 16.0;
  CHECK(on_channels - narrowing_loss(0.25) - development_loss(0.1) == Approx(0.5625));
}

// A thin plate's jets contract to Cc = pi/(pi + 2) = 0.611 of the holes (Kirchhoff's free streamline
// solution) and widen to the duct: K = (1/(Cc f) - 1)^2. Blevins' table is measured: within 10 % in its
// sparse half.
TEST_CASE("Borda-Carnot behind contracted jets: a sparse perforated plate (derived)", "[derived:3]") {
  const double cc = 3.14159265358979 / (3.14159265358979 + 2.0);
  const auto jets = [cc](double f) { return (1.0 / (cc * f) - 1.0) * (1.0 / (cc * f) - 1.0); };
  CHECK(thin_plate_loss(0.1) == Approx(jets(0.1)).epsilon(0.1));
  CHECK(thin_plate_loss(0.2) == Approx(jets(0.2)).epsilon(0.1));
  CHECK(thin_plate_loss(0.05) == Approx(jets(0.05)).epsilon(0.1));
}
