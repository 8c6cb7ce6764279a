// Thermocouple: conduction along its wires, and in the air between warm surfaces.
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "solver/physics/thermometry.hpp"

using namespace tuft;
using namespace tuft::physics;

TEST_CASE("thermocouple: true on metal, cold on plastic") {
  const Thermocouple couple;
  const Range metal = contact_error(couple, 150.0, 295.0), plastic = contact_error(couple, 0.2, 295.0);
  CHECK(metal.nominal > 0.0);
  CHECK(plastic.nominal > metal.nominal);
  CHECK(plastic.low < plastic.nominal);
  CHECK(plastic.nominal < plastic.high);
  CHECK(plastic.high < 1.0);
  // Thinner wires lead less heat off; a junction that hardly touches reads the air.
  Thermocouple thin = couple;
  thin.wire = 0.05e-3;
  CHECK(contact_error(thin, 0.2, 295.0).nominal < plastic.nominal);
  Thermocouple loose = couple;
  loose.taped = 1e-6;
  CHECK(contact_error(loose, 0.2, 295.0).nominal > 0.99);
}

TEST_CASE("thermocouple: the conduction error by hand") {
  // Taped over 2 mm of plastic, d 0.2 mm, k 25: k A = 7.854e-7 W m/K. In the air g = pi 0.45 0.0258 = 0.0365,
  // G_a = sqrt(0.0365 * 7.854e-7) = 1.693e-4 W/K. Under the tape 1/g = 1/(2000 * 0.0002) + 1/0.2 = 7.5, g =
  // 0.1333, G_t = 3.236e-4, m l = 412.0 * 0.002 = 0.824, tanh 0.6773, cosh 1.3591. Share 1.693/(1.693
  // + 2.192) /1.3591 = 0.3207 (derived).
  Thermocouple couple;
  couple.taped = 0.002;
  CHECK(contact_error(couple, 0.2, 295.0).nominal == Approx(0.3207).epsilon(2e-3));
  const Reading reading = read_contact(couple, 335.0, 0.2, 295.0);
  CHECK(reading.mean == Approx(335.0 - 0.3207 * 40.0).epsilon(1e-4));
  // The exact fin: -k A T'' = g_t (T_s - T), stepped from the junction (T' = 0) to where the wire leaves the
  // surface, must lose there what the free fin takes, G_a (T - T_air).
  const double along = 25.0 * 0.25 * 3.14159265358979 * 4e-8, grip = 1.0 / 7.5;
  double below = 0.3207 * 40.0, slope = 0.0;  // T_s - T and its growth
  const int steps = 20000;
  const double h = 0.002 / steps;
  for (int i = 0; i < steps; ++i) {
    const double middle = below + 0.5 * h * slope;
    below += h * (slope + 0.5 * h * grip / along * below);
    slope += h * grip / along * middle;
  }
  CHECK(along * slope == Approx(1.693e-4 * (40.0 - below)).epsilon(3e-3));
  // At the air's temperature nothing flows: only the couple's own error is left.
  const Reading even = read_contact(couple, 295.0, 0.2, 295.0);
  CHECK(even.mean == Approx(295.0));
  CHECK(even.deviation == Approx(1.5 / 1.96));
}

TEST_CASE("thermocouple in the air: drawn towards warm surfaces, less so in a wind") {
  const Thermocouple couple;
  const physics::AirState state;
  const Reading still = read_air(couple, state, 300.0, 340.0, 0.0);
  const Reading windy = read_air(couple, state, 300.0, 340.0, 2.0);
  CHECK(still.mean > windy.mean);
  CHECK(windy.mean > 300.0);
  CHECK(still.mean < 303.0);
  CHECK(read_air(couple, state, 300.0, 300.0, 0.5).mean == Approx(300.0));
}

TEST_CASE("thermocouple: wrong input is refused") {
  const Thermocouple couple;
  const physics::AirState state;
  CHECK_THROWS_AS(contact_error(couple, 0.0, 295.0), std::invalid_argument);
  CHECK_THROWS_AS(read_contact(couple, -1.0, 1.0, 295.0), std::invalid_argument);
  CHECK_THROWS_AS(read_air(couple, state, 300.0, 300.0, -1.0), std::invalid_argument);
  Thermocouple broken;
  broken.wire = 0.0;
  CHECK_THROWS_AS(contact_error(broken, 1.0, 295.0), std::invalid_argument);
}
