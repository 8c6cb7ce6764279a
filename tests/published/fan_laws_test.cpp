// The fan laws, and typical fans.
#include <catch2/catch.hpp>

#include "solver/numerics/constants.hpp"
#include "solver/physics/fan.hpp"

using namespace tuft::physics;

// Worked number of a public fan-design document and its unit tests (confirmed): D 0.119 m, 2000 rpm.
TEST_CASE("tip speed of the worked design (confirmed)", "[outside:1]") {
  CHECK(tip_speed(0.119, 2000.0 / 60.0) == Approx(12.46165).epsilon(1e-5));
}

// Q ~ N D^3, p ~ rho N^2 D^2, power ~ rho N^3 D^5 (AMCA 210 / ISO 5801 carry them; seen in the same
// document).
TEST_CASE("fan laws: half the speed and 70 % of the density (confirmed)", "[echo:1]") {
  const FanCurve fan = FanCurve::typical(FanKind::axial, 0.06, 0.015, 80.0);
  const double q = 0.4 * fan.free_delivery();
  const double full = fan.rise(q, 80.0, 1.2).pressure;
  const double reduced = fan.rise(0.5 * q, 40.0, 0.84).pressure;
  CHECK(reduced == Approx(0.25 * 0.7 * full).epsilon(1e-12));
}

// Eck B., "Fans", Pergamon 1973 (from memory): axial fans work best at phi 0.1-0.3, psi 0.1-0.5.
TEST_CASE("Eck's range of axial fans holds our typical one (from memory, weak)", "[memory:2]") {
  const double d = 0.04, n = 100.0;
  const FanCurve fan = FanCurve::typical(FanKind::axial, d, 0.01, n);
  double best = 0.0, best_flow = 0.0;  // largest air power stands in for the best point
  for (double q = 0.0; q < fan.free_delivery(); q += fan.free_delivery() / 1000.0) {
    const double power = q * fan.rise(q, n, fan.density()).pressure;
    if (power > best) best = power, best_flow = q;
  }
  const double u = tip_speed(d, n);
  const double phi = best_flow / (0.25 * tuft::numerics::kPi * d * d * u);
  const double psi = 2.0 * best / best_flow / (fan.density() * u * u);
  CHECK(phi > 0.1);
  CHECK(phi < 0.3);
  CHECK(psi > 0.1);
  CHECK(psi < 0.5);
}

// Notebook blowers: 1.4-2.8 L/s, 100-300 Pa, 3000-5500 rpm, housings of 60-75 mm (common practice, no
// source). The impeller is about four fifths of the housing and 5 mm thick; the smaller turns faster
// (judgement).
TEST_CASE("common range of notebook blowers holds our typical ones (common practice, no source)",
          "[practice:2]") {
  const double table[][2] = {{60.0, 5500.0}, {67.5, 4400.0}, {75.0, 3700.0}};  // housing [mm], [rpm]
  for (const auto& row : table) {
    INFO("housing " << row[0] << " mm");
    const FanCurve fan = FanCurve::typical(FanKind::blower, 0.8e-3 * row[0], 0.005, row[1] / 60.0);
    CHECK(fan.free_delivery() > 1.4e-3);
    CHECK(fan.free_delivery() < 2.8e-3);
    CHECK(fan.shut_off_pressure() > 100.0);
    CHECK(fan.shut_off_pressure() < 300.0);
  }
}
