// Vane and hot wire: average, threshold, blockage.
#include "solver/physics/anemometer.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

using namespace tuft::physics;
using Eigen::Vector3d;

namespace {

const Vector3d up(0.0, 0.0, 1.0);

}  // namespace

TEST_CASE("anemometer: average over the aperture") {
  const Anemometer& vane = anemometer("vane-100mm");
  const AirVelocity even = [](const Vector3d&) { return Vector3d(0.3, 0.0, -0.8); };
  // Derived: the component along the axis, with its sign; a hot wire feels the speed.
  CHECK(aperture_average(vane, even, Vector3d::Zero(), up) == Approx(-0.8).epsilon(1e-12));
  CHECK(aperture_average(anemometer("hot-wire"), even, Vector3d::Zero(), up) ==
        Approx(std::hypot(0.3, 0.8)).epsilon(1e-12));
  CHECK(aperture_average(vane, even, Vector3d::Zero(), {0.0, 3.0, 4.0}) == Approx(-0.64).epsilon(1e-12));
  // r^2 over a disc of radius R averages to R^2/2, x^4 to R^4/8, shear to the value in the middle (derived).
  const AirVelocity round = [](const Vector3d& p) { return Vector3d(0.0, 0.0, p.squaredNorm()); };
  const AirVelocity quartic = [](const Vector3d& p) { return Vector3d(0.0, 0.0, std::pow(p.x(), 4)); };
  const AirVelocity shear = [](const Vector3d& p) { return Vector3d(0.0, 0.0, 1.0 + 7.0 * p.y()); };
  CHECK(aperture_average(vane, round, Vector3d::Zero(), up) == Approx(0.5 * 0.0025).epsilon(1e-12));
  CHECK(aperture_average(vane, quartic, Vector3d::Zero(), up) ==
        Approx(std::pow(0.05, 4) / 8).epsilon(1e-12));
  CHECK(aperture_average(vane, shear, {0.0, 0.1, 0.0}, up) == Approx(1.7).epsilon(1e-12));
}

TEST_CASE("anemometer: what it shows") {
  for (const Anemometer& one : anemometers()) {
    INFO(one.name);
    // By definition the threshold is where it answers half the time.
    CHECK(read(one, one.threshold.nominal).detection == Approx(0.5));
    CHECK(read(one, 10.0).detection == Approx(1.0).epsilon(1e-6));
    CHECK(read(one, 10.0).mean == Approx(10.0).epsilon(1e-3));
    CHECK(read(one, -2.0).mean == read(one, 2.0).mean);
    CHECK(read(one, 2.0).deviation > read(one, 0.5).deviation);
  }
  // 95 % errors: 0.1 m/s and 3 % as a root of squares, over 1.96.
  CHECK(read(anemometer("vane-100mm"), 2.0).deviation == Approx(std::hypot(0.1, 0.06) / 1.96));
  // A vane before a slow drift stands still; a hot wire shows its own warmth.
  CHECK(read(anemometer("vane-16mm"), 0.1).detection < 0.001);
  CHECK(read(anemometer("hot-wire"), 0.0).mean == Approx(0.08));
}

TEST_CASE("anemometer: it chokes the vent it measures") {
  const Anemometer& vane = anemometer("vane-100mm");
  const double aperture = 0.25 * 3.14159265358979323846 * 0.01;
  // As large as the vent or larger: its loss on the slower velocity in it.
  CHECK(added_loss(vane, aperture, 3.0) == Approx(0.8).epsilon(1e-9));
  CHECK(added_loss(vane, 0.5 * aperture, 3.0) == Approx(0.2).epsilon(1e-9));
  // Smaller: two ways side by side. Derived: at a pressure drop of 1 (times rho/2), the flows add.
  const double face = 4.0 * aperture, own = 0.8, vent = 3.0;
  const double flow = 0.75 / std::sqrt(vent) + 0.25 / std::sqrt(vent + own);
  CHECK(added_loss(vane, face, vent) == Approx(1.0 / (flow * flow) - vent).epsilon(1e-12));
  CHECK(added_loss(vane, 1e4 * aperture, vent) == Approx(0.0).margin(1e-3));
  Anemometer ideal = vane;
  ideal.loss = {0.0, 0.0, 0.0};
  CHECK(added_loss(ideal, face, vent) == Approx(0.0).margin(1e-12));
}

TEST_CASE("anemometer: wrong input is refused") {
  const Anemometer& vane = anemometer("vane-100mm");
  CHECK_THROWS_AS(anemometer("sonic"), std::invalid_argument);
  CHECK_THROWS_AS(read(vane, std::nan("")), std::invalid_argument);
  CHECK_THROWS_AS(added_loss(vane, 0.0, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(added_loss(vane, 0.01, 0.0), std::invalid_argument);
  const AirVelocity broken = [](const Vector3d&) { return Vector3d(0.0, 0.0, std::nan("")); };
  CHECK_THROWS_AS(aperture_average(vane, broken, Vector3d::Zero(), up), std::invalid_argument);
  CHECK_THROWS_AS(aperture_average(vane, broken, Vector3d::Zero(), Vector3d::Zero()), std::invalid_argument);
}
