// Incropera F.P., DeWitt D.P. et al., "Fundamentals of Heat and Mass Transfer": worked examples. Inputs and
// printed results confirmed in public companion notebooks of the book.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/numerics/constants.hpp"
#include "solver/physics/film.hpp"
#include "solver/physics/fin_heat.hpp"
#include "solver/physics/radiation.hpp"
#include "tests/support/laminar_plate.hpp"

using namespace tuft::physics;

namespace {

using tuft::numerics::kPi;

/// Rayleigh number of the book's property values, g 9.8 m/s2.
double rayleigh(double beta, double difference, double length, double nu, double alpha) {
  return 9.8 * beta * difference * length * length * length / (nu * alpha);
}

}  // namespace

TEST_CASE("Incropera 1.2: a steam pipe emits 2273 W/m2, receives 448 W/m2, loses 998 W/m (confirmed)",
          "[outside:3]") {
  const double surface = 473.15, room = 298.15;
  CHECK(grey_flux(0.8, surface, 0.0).value == Approx(2273.36).epsilon(2e-4));
  CHECK(grey_flux(1.0, room, 0.0).value == Approx(448.05).epsilon(2e-4));
  const double loss = kPi * 0.07 * (15.0 * 175.0 + grey_flux(0.8, surface, room).value);
  CHECK(loss == Approx(998.38).epsilon(2e-4));
}

// Rods long enough to be endless: tanh(M)/M with 2h/(kt) = 4h/(kD), t = D/2. The notebook's 75.15 K (75 K
// with a slip of 0.15 K) is what its results come from.
TEST_CASE("Incropera 3.9: long rods carry 8.33 W (copper), 5.60 W (aluminium), 1.56 W (steel) (confirmed)",
          "[outside:3]") {
  const double rods[][2] = {{398.0, 8.33}, {180.0, 5.60}, {14.0, 1.56}};
  const double d = 0.005, h = 100.0, length = 1.0;
  for (const auto& rod : rods) {
    INFO("k " << rod[0]);
    const double eta = fin_efficiency(h, length, 0.5 * d, rod[0]).value;
    CHECK(eta * h * kPi * d * length * 75.15 == Approx(rod[1]).margin(0.01));
  }
}

TEST_CASE("Incropera 3.9: a rod of length 2.65/m does 99 % of an endless one (confirmed)", "[outside:1]") {
  const double d = 0.005, h = 100.0, k = 398.0;
  const double m = std::sqrt(4.0 * h / (k * d));
  CHECK(fin_efficiency(h, 2.65 / m, 0.5 * d, k).value * 2.65 == Approx(0.99).margin(1e-3));
}

// The notebook prints 54.47 C after subtracting 273 instead of 273.15: 54.32 C. It counts the fins' ends too.
TEST_CASE("Incropera 3.11: 22 fins, 11.25 W, fuel cell at 54.3 C, eta 0.996 (confirmed)", "[outside:2]") {
  const double h = 19.1, k = 200.0, tf = 1e-3, lf = 8e-3, w = 0.05;
  const double eta = fin_efficiency(h, lf, tf, k).value;
  CHECK(eta == Approx(0.9959).margin(2e-4));
  const double fins = 22.0 * eta * 2.0 * (w + tf) * lf;
  const double base = (2.0 * w - 22.0 * tf) * w;
  const double resistance = 1e-3 / (2.0 * w * w) + 2e-3 / (2.0 * k * w * w) + 1.0 / (h * (fins + base));
  CHECK(25.0 + 11.25 * resistance == Approx(54.47 - 0.15).margin(0.02));
}

TEST_CASE("Incropera 9.2: glass of a fireplace, Ra 1.813e9, Nu 147, 1060 W (confirmed)",
          "[outside:2][echo:1]") {
  const double ra = rayleigh(2.5e-3, 209.0, 0.71, 26.4e-6, 38.3e-6);
  CHECK(ra == Approx(1.813e9).epsilon(1e-3));
  const double nu = vertical_plate(ra, 0.69).value;
  CHECK(nu == Approx(147.16).margin(0.15));
  CHECK(nu * 0.0338 / 0.71 * 0.71 * 1.02 * 209.0 == Approx(1060.0).margin(3.0));
}

TEST_CASE("Incropera 9.3: a heating duct loses 246 W/m (confirmed)", "[outside:1]") {
  const double width = 0.75, height = 0.3, k = 0.0265, difference = 30.0;
  const double side = rayleigh(3.3e-3, difference, height, 16.2e-6, 22.9e-6);
  const double flat = rayleigh(3.3e-3, difference, 0.5 * width, 16.2e-6, 22.9e-6);
  const double h_side = tuft::test::laminar_plate(side, 0.71) * k / height;
  const double h_top = face_up_plate(flat).value * k / (0.5 * width);
  const double h_bottom = face_down_plate(flat).value * k / (0.5 * width);
  CHECK((2.0 * height * h_side + width * (h_top + h_bottom)) * difference == Approx(246.0).margin(1.5));
}
