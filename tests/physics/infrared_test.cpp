// Infrared spot: Planck's law, the measurement equation by hand, what is refused.
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/physics/radiation.hpp"
#include "solver/physics/thermometry.hpp"

using namespace tuft;
using namespace tuft::physics;
using namespace tuft::physics;

namespace {

constexpr double celsius = 273.15;

/// Painted target, everything else at 22 C.
SpotTarget painted(double temperature) {
  SpotTarget target;
  target.temperature = temperature + celsius;
  target.reflected = 22.0 + celsius;
  target.air = 22.0 + celsius;
  target.diameter = 0.05;
  return target;
}

}  // namespace

TEST_CASE("black body: shares of the radiation below a wavelength", "[memory:4][derived:1]") {
  // Incropera et al., Table 12.1, from memory: lambda T in um K against the share.
  CHECK(black_body_share(2000e-6) == Approx(0.066728).epsilon(2e-4));
  CHECK(black_body_share(2400e-6) == Approx(0.140256).epsilon(2e-4));
  CHECK(black_body_share(2898e-6) == Approx(0.2501).epsilon(5e-4));
  CHECK(black_body_share(4200e-6) == Approx(0.516014).epsilon(2e-4));
  CHECK(black_body_share(1.0) == Approx(1.0).epsilon(1e-5));
  // Against Planck's law itself, integrated here by Simpson's rule over 8 .. 14 um at 310 K (derived).
  const double t = 310.0, c1 = 2.0 * 3.14159265358979323846 * 6.62607015e-34 * 299792458.0 * 299792458.0;
  const double c2 = 6.62607015e-34 * 299792458.0 / 1.380649e-23;
  const auto planck = [&](double l) { return c1 / (std::pow(l, 5) * std::expm1(c2 / (l * t))); };
  const int n = 400;
  double sum = 0.0;
  const double h = 6e-6 / n;
  for (int i = 0; i <= n; ++i) {
    sum += (i == 0 || i == n ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0)) * planck(8e-6 + i * h);
  }
  CHECK(black_body(Band::long_wave, t) == Approx(sum * h / 3.0).epsilon(1e-7));
}

TEST_CASE("black body: the temperature of a flux is the inverse") {
  CHECK(black_body(Band::total, 300.0) == Approx(459.3).epsilon(1e-4));  // sigma 300^4, by hand
  for (const Band band : {Band::total, Band::long_wave}) {
    for (const double t : {150.0, 273.15, 295.0, 333.15, 400.0, 900.0}) {
      CHECK(black_body_temperature(band, black_body(band, t)) == Approx(t).epsilon(1e-8));
    }
  }
}

TEST_CASE("infrared: bare metal reads the room, by hand") {
  // Stefan-Boltzmann, derived: emissivity 0.05, truly 60 C, room 22 C, set to 1: sigma T^4 = 0.05 sigma
  // 333.15^4 + 0.95 sigma 295.15^4, T = 297.5 K, shown 24.3 C.
  InfraredSpot spot;
  spot.band = Band::total;
  spot.set_emissivity = 1.0;
  const SpotTarget target = painted(60.0);
  const double flux = radiance_seen(Band::total, target, 0.05);
  CHECK(flux == Approx(physics::stefan_boltzmann * (0.05 * std::pow(333.15, 4) + 0.95 * std::pow(295.15, 4)))
                    .epsilon(1e-12));
  CHECK(displayed_temperature(spot, flux) - celsius == Approx(24.3).margin(0.05));
}

TEST_CASE("infrared: told the truth, it shows the truth") {
  for (const Band band : {Band::total, Band::long_wave}) {
    InfraredSpot spot;
    spot.band = band;
    spot.set_reflected = 22.0 + celsius;
    for (const double t : {5.0, 22.0, 45.0, 90.0}) {
      const SpotReading shown = read_spot(spot, painted(t));
      REQUIRE_FALSE(shown.refused);
      CHECK(shown.reading.mean - celsius == Approx(t).margin(1e-5));
      CHECK(shown.reading.deviation >= 2.0 / 1.96 * 0.999);
    }
    // Set to 0.95 on a surface of 0.80: too low above the room, too high below it (derived).
    SpotTarget dull = painted(60.0);
    dull.emissivity = {0.80, 0.78, 0.82};
    CHECK(read_spot(spot, dull).reading.mean < 60.0 + celsius - 3.0);
    dull.temperature = 5.0 + celsius;
    CHECK(read_spot(spot, dull).reading.mean > 5.0 + celsius + 1.0);
  }
}

TEST_CASE("infrared: the air between counts by its transmittance") {
  // eps tau W(obj) + (1 - eps) tau W(refl) + (1 - tau) W(air), by hand for eps 0.9, tau 0.8 (total band).
  SpotTarget target = painted(60.0);
  target.reflected = 300.0;
  target.air = 290.0;
  target.transmittance = 0.8;
  const double by_hand =
      5.670374419e-8 * (0.72 * std::pow(333.15, 4) + 0.08 * std::pow(300.0, 4) + 0.2 * std::pow(290.0, 4));
  CHECK(radiance_seen(Band::total, target, 0.9) == Approx(by_hand).epsilon(1e-9));
}

TEST_CASE("infrared: what is refused, and why") {
  const InfraredSpot spot;
  SpotTarget glass = painted(50.0);
  glass.glass_between = true;
  CHECK(read_spot(spot, glass).reason ==
        "there is glass between: glass is opaque from 8 to 14 um, the reading would be that of the glass");
  SpotTarget metal = painted(50.0);
  metal.emissivity = surface("bare-aluminium").emissivity;
  CHECK(read_spot(spot, metal).refused);
  CHECK(
      read_spot(spot, metal).reason ==
      "the surface has an emissivity of 0.05: a shiny face mirrors the room and hides its own warmth; stick "
      "matt tape or paper on it and wait");
  SpotTarget small = painted(50.0);
  small.diameter = 0.01;
  small.distance = 0.3;
  CHECK(read_spot(spot, small).reason ==
        "the spot of 25 mm is larger than the target of 10 mm: go nearer, to 120 mm or less");
  small.diameter = 0.002;
  CHECK(read_spot(spot, small).reason ==
        "the spot of 25 mm is larger than the target of 2 mm, from any distance");
  CHECK_FALSE(read_spot(spot, painted(50.0)).refused);
  CHECK(std::string(infrared_caution) ==
        "An infrared reading is the temperature of a surface. It never shows the air or which way it goes.");
}

TEST_CASE("infrared: doubt of the emissivity widens the reading") {
  const InfraredSpot spot;
  SpotTarget sure = painted(80.0), unsure = painted(80.0);
  sure.emissivity = {0.95, 0.95, 0.95};
  unsure.emissivity = {0.90, 0.80, 0.98};
  CHECK(read_spot(spot, unsure).reading.deviation > read_spot(spot, sure).reading.deviation);
}

TEST_CASE("emissivities: as in the manuals, low to high", "[echo:5]") {
  // Infrared-camera manuals: polished aluminium 0.04 to 0.06, vinyl tape 0.96, paint 0.92 to 0.97, blasted
  // cast aluminium 0.46, glass 0.94.
  CHECK(surface("bare-aluminium").emissivity.nominal == Approx(0.05));
  CHECK(surface("vinyl-tape").emissivity.nominal == Approx(0.96));
  CHECK(surface("paint").emissivity.low == Approx(0.92));
  CHECK(surface("blasted-cast-aluminium").emissivity.nominal == Approx(0.46));
  CHECK(surface("glass").emissivity.nominal == Approx(0.94));
  for (const SurfaceFinish& one : surfaces()) {
    INFO(one.name);
    CHECK(one.emissivity.low > 0.0);
    CHECK(one.emissivity.low <= one.emissivity.nominal);
    CHECK(one.emissivity.nominal <= one.emissivity.high);
    CHECK(one.emissivity.high <= 1.0);
  }
  CHECK_THROWS_AS(surface("velvet"), std::invalid_argument);
}

TEST_CASE("spot size: distance over ratio, not below the smallest") {
  InfraredSpot spot;
  spot.distance_ratio = 12.0;
  spot.smallest_spot = 0.006;
  CHECK(spot_diameter(spot, 0.36) == Approx(0.03));
  CHECK(spot_diameter(spot, 0.01) == Approx(0.006));
}

TEST_CASE("infrared: wrong input is refused") {
  InfraredSpot spot;
  spot.set_emissivity = 0.0;
  CHECK_THROWS_AS(read_spot(spot, painted(50.0)), std::invalid_argument);
  spot.set_emissivity = 1.01;
  CHECK_THROWS_AS(read_spot(spot, painted(50.0)), std::invalid_argument);
  SpotTarget target = painted(50.0);
  target.transmittance = 0.0;
  CHECK_THROWS_AS(read_spot(InfraredSpot{}, target), std::invalid_argument);
  target = painted(50.0);
  target.temperature = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(read_spot(InfraredSpot{}, target), std::invalid_argument);
  CHECK_THROWS_AS(black_body(Band::total, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(black_body_temperature(Band::total, -1.0), std::invalid_argument);
  CHECK_THROWS_AS(black_body_temperature(Band::total, 1e9), std::invalid_argument);
  // A cold surface and an instrument told that it mirrors much: no temperature belongs to it.
  InfraredSpot fooled;
  fooled.set_emissivity = 0.2;
  fooled.set_reflected = 400.0;
  const SpotReading none = read_spot(fooled, painted(10.0));
  CHECK(none.refused);
  CHECK_FALSE(none.reason.empty());
}
