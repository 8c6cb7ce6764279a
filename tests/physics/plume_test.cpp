// Plumes and the layer along a warm wall: balances, published constants, limits.
#include "solver/numerics/constants.hpp"
#include "solver/physics/background_air.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "solver/physics/film.hpp"
#include "tests/support/laminar_plate.hpp"

using namespace tuft;
using namespace tuft::physics;

namespace {

using tuft::numerics::kPi;
const physics::AirState dry{101325.0, 0.0};

}  // namespace

TEST_CASE("plume: flux of buoyancy of a kilowatt") {
  // 0.0276 m4/s3 per kW at 293.15 K (derived: 9.81 * 1000/(1.204 * 1006 * 293.15)).
  CHECK(buoyancy_flux(1000.0, dry, 293.15) == Approx(0.0276).epsilon(3e-3));
  CHECK(buoyancy_flux(0.0, dry, 293.15) == 0.0);
}

TEST_CASE("plume: the profiles carry the flux of buoyancy they are made for") {
  // Integral of w g' over the section is B, with the constants of Rouse, Yih & Humphreys (1952) from memory:
  // they balance to 3 %.
  const double b = 2e-3, z = 0.7, room = 293.15;
  double round = 0.0, line = 0.0;
  const double dr = 1e-4;
  for (double r = 0.5 * dr; r < z; r += dr) {
    const PlumeAir air = round_plume(b, z, r, room);
    const PlumeAir flat = line_plume(b, z, r, room);
    const double lift = 9.80665 / room;
    round += air.speed * air.temperature_excess * lift * 2.0 * kPi * r * dr;
    line += 2.0 * flat.speed * flat.temperature_excess * lift * dr;
  }
  CHECK(round == Approx(b).epsilon(0.03));
  CHECK(line == Approx(b).epsilon(0.03));
  CHECK(round_plume(b, 8.0 * z, 0.0, room).speed == Approx(0.5 * round_plume(b, z, 0.0, room).speed));
  CHECK(line_plume(b, 8.0 * z, 0.0, room).speed == Approx(line_plume(b, z, 0.0, room).speed));
}

TEST_CASE("plume above a warm patch: limited by rising from rest, symmetric, fading") {
  WarmPatch patch;
  patch.width = 0.20;
  patch.height = 0.03;
  patch.heat_flow = 4.0;
  patch.excess = 15.0;
  const PlumeAir low = patch_plume(patch, 1e-4, 0.0, 0.0);
  CHECK(low.speed == Approx(std::sqrt(2.0 * 9.80665 * 15.0 / 293.15 * 1e-4)).epsilon(1e-9));
  CHECK(low.temperature_excess <= 15.0);
  const PlumeAir near = patch_plume(patch, 0.2, 0.0, 0.0);
  CHECK(near.speed > 0.05);
  CHECK(near.speed < 0.5);
  CHECK(patch_plume(patch, 0.2, 0.05, 0.0).speed == Approx(patch_plume(patch, 0.2, -0.05, 0.0).speed));
  CHECK(patch_plume(patch, 0.2, 0.0, 0.5).speed < 1e-3 * near.speed);
  // The same patch named the other way round.
  WarmPatch turned = patch;
  turned.width = 0.03;
  turned.height = 0.20;
  CHECK(patch_plume(turned, 0.2, 0.01, 0.04).speed == Approx(patch_plume(patch, 0.2, 0.04, 0.01).speed));
  patch.heat_flow = 0.0;
  CHECK(patch_plume(patch, 0.2, 0.0, 0.0).speed == 0.0);
}

TEST_CASE("wall layer: its heat is that of the published law") {
  // Mean Nusselt number 4/3 of the local one, against Churchill & Chu (1975), laminar form, as transcribed in
  // the ASHRAE Handbook: an integral solution and a fit to measurements agree within 6 %.
  for (const double height : {0.1, 0.3, 0.6}) {
    for (const double excess : {5.0, 20.0, 40.0}) {
      WarmWall wall;
      wall.wall = wall.room + excess;
      wall.air = dry;
      const WallLayer layer = wall_layer(wall, height);
      const physics::FilmAir film = physics::film_air(dry, wall.room + 0.5 * excess);
      const double rayleigh = film.rayleigh.value * excess * height * height * height;
      const double published = test::laminar_plate(rayleigh, film.prandtl.value);
      INFO("Ra " << rayleigh);
      CHECK(4.0 / 3.0 * layer.nusselt == Approx(published).epsilon(0.06));
    }
  }
}

TEST_CASE("wall layer: satisfies its balances of momentum and heat") {
  // d/dx (u1^2 d/105) = g beta dT d/3 - nu u1/d,  d/dx (u1 d/30) = 2 alpha/d (derived), by differences.
  WarmWall wall;
  wall.wall = wall.room + 20.0;
  wall.air = dry;
  const double film = wall.room + 10.0, x = 0.2, h = 1e-4;
  const double rho = physics::density(dry, film);
  const double nu = physics::viscosity(film) / rho;
  const double alpha = physics::conductivity(film) / (rho * physics::specific_heat(film));
  const auto u1 = [&](double at) { return 6.75 * wall_layer(wall, at).peak_speed; };
  const auto d = [&](double at) { return wall_layer(wall, at).thickness; };
  const auto momentum = [&](double at) { return u1(at) * u1(at) * d(at) / 105.0; };
  const auto heat = [&](double at) { return u1(at) * d(at) / 30.0; };
  const double lift = 9.80665 * 20.0 / film;
  CHECK((momentum(x + h) - momentum(x - h)) / (2.0 * h) ==
        Approx(lift * d(x) / 3.0 - nu * u1(x) / d(x)).epsilon(1e-5));
  CHECK((heat(x + h) - heat(x - h)) / (2.0 * h) == Approx(2.0 * alpha / d(x)).epsilon(1e-5));
  // Profile: nothing on the wall and beyond, the peak at a third.
  const WallLayer layer = wall_layer(wall, x);
  CHECK(layer.speed(0.0) == 0.0);
  CHECK(layer.speed(layer.thickness / 3.0) == Approx(layer.peak_speed).epsilon(1e-12));
  CHECK(layer.speed(2.0 * layer.thickness) == 0.0);
  CHECK(layer.warmth(0.0) == 1.0);
  double flow = 0.0;
  for (int i = 0; i < 1000; ++i)
    flow += layer.speed(layer.thickness * (i + 0.5) / 1000) * layer.thickness / 1000;
  CHECK(layer.flow == Approx(flow).epsilon(1e-5));
}

TEST_CASE("plumes and wall: wrong input is refused") {
  CHECK_THROWS_AS(buoyancy_flux(-1.0, dry, 293.0), std::invalid_argument);
  CHECK_THROWS_AS(round_plume(1e-3, 0.0, 0.0, 293.0), std::invalid_argument);
  CHECK_THROWS_AS(line_plume(-1e-3, 1.0, 0.0, 293.0), std::invalid_argument);
  WarmPatch patch;
  CHECK_THROWS_AS(patch_plume(patch, 0.1, 0.0, 0.0), std::invalid_argument);
  WarmWall wall;
  wall.wall = wall.room;
  CHECK_THROWS_AS(wall_layer(wall, 0.1), std::invalid_argument);
  wall.wall = wall.room + 5.0;
  CHECK_THROWS_AS(wall_layer(wall, 0.0), std::invalid_argument);
  wall.along = 0.0;
  CHECK_THROWS_AS(wall_layer(wall, 0.1), std::invalid_argument);
}
