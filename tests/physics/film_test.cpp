// Heat from a patch of skin: derivatives, smoothness in angle and temperature, symmetry, limits.
#include "solver/physics/film.hpp"
#include "solver/numerics/constants.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "tests/physics/difference.hpp"

using namespace tuft;
using namespace tuft::physics;
using tuft::test::central_difference;

namespace {

using tuft::numerics::kPi;
const physics::AirState state{101325.0, 0.0};
const double room = 294.15;
const double sizes[][2] = {{0.3, 0.2}, {0.06, 0.09}, {0.3, 0.012}, {0.02, 0.02}};

double degrees(double angle) { return angle * kPi / 180.0; }

FilmLaw patch(double width, double height, double angle) { return film_law({width, height, degrees(angle)}); }

double flux(const FilmLaw& law, double surface, double air = room) {
  return film_flux(law, state, surface, air).value;
}

double coefficient(const FilmLaw& law, double difference) {
  return flux(law, room + difference) / difference;
}

FilmAir properties(double difference) { return film_air(state, room + 0.5 * difference); }

double rayleigh(double difference, double length) {
  return properties(difference).rayleigh.value * std::abs(difference) * length * length * length;
}

}  // namespace

TEST_CASE("slopes of the air properties a film needs") {
  for (const double t : {260.0, 293.15, 330.0, 390.0}) {
    INFO("T " << t);
    const auto conductivity = [](double x) { return physics::conductivity(x); };
    const auto specific_heat = [](double x) { return physics::specific_heat(x); };
    const auto prandtl = [](double x) { return physics::prandtl(x); };
    const numerics::Sloped here(t, 1.0, 0.0);
    CHECK(physics::specific_heat(here).slope[0] ==
          Approx(central_difference(specific_heat, t, 0.01)).epsilon(1e-6));
    const FilmAir film = film_air(state, here);
    CHECK(film.conductivity.slope[0] == Approx(central_difference(conductivity, t, 0.01)).epsilon(1e-7));
    CHECK(film.prandtl.value == Approx(physics::prandtl(t)).epsilon(1e-14));
    CHECK(film.prandtl.slope[0] == Approx(central_difference(prandtl, t, 0.01)).epsilon(1e-6));
    const auto rayleigh = [](double x) { return film_air(state, x).rayleigh.value; };
    const auto reynolds = [](double x) { return film_air(state, x).reynolds.value; };
    CHECK(film.rayleigh.slope[0] == Approx(central_difference(rayleigh, t, 0.01)).epsilon(1e-7));
    CHECK(film.reynolds.slope[0] == Approx(central_difference(reynolds, t, 0.01)).epsilon(1e-7));
  }
}

TEST_CASE("film flux: derivatives are those of the value") {
  for (const auto& size : sizes) {
    for (double angle = 0.0; angle <= 180.0; angle += 7.5) {
      for (const double difference : {-40.0, -3.0, 0.2, 8.0, 35.0}) {
        INFO(size[0] << " x " << size[1] << ", " << angle << " degrees, " << difference << " K");
        const FilmLaw law = patch(size[0], size[1], angle);
        const numerics::Sloped q = film_flux(law, state, room + difference, room);
        const double step = 1e-4 * std::abs(difference);
        const auto by_surface = [&](double t) { return flux(law, t, room); };
        const auto by_room = [&](double t) { return flux(law, room + difference, t); };
        CHECK(q.slope[0] == Approx(central_difference(by_surface, room + difference, step)).epsilon(1e-6));
        CHECK(q.slope[1] == Approx(central_difference(by_room, room, step)).epsilon(1e-6));
      }
    }
  }
}

TEST_CASE("film flux passes smoothly through zero difference, at every angle") {
  for (const auto& size : sizes) {
    for (int angle = 0; angle <= 180; angle += 5) {
      INFO(size[0] << " x " << size[1] << ", " << angle << " degrees");
      const FilmLaw law = patch(size[0], size[1], angle);
      const numerics::Sloped none = film_flux(law, state, room, room);
      CHECK(none.value == 0.0);
      const double still = physics::conductivity(room) * law.still;
      CHECK(none.slope[0] == Approx(still).epsilon(1e-12));
      CHECK(none.slope[1] == Approx(-still).epsilon(1e-12));
      // The slope arrives there from both sides, and at least in proportion to the difference.
      const auto off = [&](double difference) {
        const double above = film_flux(law, state, room + difference, room).slope[0];
        const double below = film_flux(law, state, room - difference, room).slope[0];
        return std::max(std::abs(above - still), std::abs(below - still)) / still;
      };
      CHECK(off(1e-10) < 1e-4);
      CHECK(off(1e-10) < 0.011 * off(1e-8));
    }
  }
}

TEST_CASE("film flux and its slope are continuous in the angle, checked at every degree") {
  const double step = 1e-5;  // degrees
  for (const auto& size : sizes) {
    for (const double difference : {-20.0, 0.5, 20.0}) {
      const auto at = [&](double angle) { return coefficient(patch(size[0], size[1], angle), difference); };
      for (int angle = 1; angle < 180; ++angle) {
        INFO(size[0] << " x " << size[1] << ", " << difference << " K, " << angle << " degrees");
        const double here = at(angle);
        const double left = (here - at(angle - step)) / step;
        const double right = (at(angle + step) - here) / step;
        CHECK(std::abs(here - at(angle - step)) < 1e-6 * here);
        CHECK(std::abs(right - left) < 2e-5 * here);  // a kink would show as a fraction of h per degree
      }
    }
  }
}

TEST_CASE("film flux never changes by more than a few per cent from one degree to the next") {
  for (const auto& size : sizes) {
    for (const double difference : {-30.0, -2.0, 2.0, 30.0}) {
      for (int angle = 0; angle < 180; ++angle) {
        INFO(size[0] << " x " << size[1] << ", " << difference << " K, " << angle << " degrees");
        const double ratio = coefficient(patch(size[0], size[1], angle + 1), difference) /
                             coefficient(patch(size[0], size[1], angle), difference);
        CHECK(std::abs(ratio - 1.0) < 0.06);
      }
    }
  }
}

TEST_CASE("a cold patch facing up is a hot one facing down, at every angle") {
  for (const auto& size : sizes) {
    for (int angle = 0; angle <= 180; angle += 10) {
      INFO(angle << " degrees");
      const numerics::Sloped hot = film_flux(patch(size[0], size[1], angle), state, 315.0, 295.0);
      const numerics::Sloped cold = film_flux(patch(size[0], size[1], 180.0 - angle), state, 295.0, 315.0);
      CHECK(cold.value == Approx(-hot.value).epsilon(1e-12));
      CHECK(cold.slope[0] == Approx(-hot.slope[1]).epsilon(1e-9));
      CHECK(cold.slope[1] == Approx(-hot.slope[0]).epsilon(1e-9));
    }
  }
}

TEST_CASE("upright, face up and face down the patch follows the published laws") {
  const double w = 0.3, h = 0.2, side = w * h / (2.0 * (w + h));
  for (const double difference : {5.0, 30.0}) {
    const FilmAir film = properties(difference);
    const double k = film.conductivity.value;
    const double up = coefficient(patch(w, h, 0.0), difference);
    const double upright = coefficient(patch(w, h, 90.0), difference);
    const double down = coefficient(patch(w, h, 180.0), difference);
    CHECK(up == Approx(k / side * face_up_plate(rayleigh(difference, side)).value).epsilon(1e-5));
    CHECK(upright ==
          Approx(k / h * vertical_plate(rayleigh(difference, h), film.prandtl).value).epsilon(1e-5));
    CHECK(down == Approx(k / side * face_down_plate(rayleigh(difference, side)).value).epsilon(1e-3));
    CHECK(down < upright);
    CHECK(upright < up);
  }
}

TEST_CASE("captive air: the vertical law with g cos(e) up to 60 degrees off the vertical") {
  const double difference = 15.0, w = 0.2, h = 0.2;
  const FilmAir film = properties(difference);
  for (double off = 0.0; off <= 60.0; off += 10.0) {
    INFO(off << " degrees off the vertical");
    const double law = vertical_plate(rayleigh(difference, h) * std::cos(degrees(off)), film.prandtl).value;
    CHECK(coefficient(patch(w, h, 90.0 + off), difference) ==
          Approx(film.conductivity.value / h * law).epsilon(1e-4));
  }
}

// The larger of the vertical law with g cos(e) and the horizontal one with g sin(e): Nellis G.F., Klein S.A.,
// "Introduction to Engineering Heat Transfer", Cambridge University Press 2021, as coded publicly.
TEST_CASE("free air: within 10 % of the larger of the two laws with their components of gravity") {
  for (const auto& size : {std::pair<double, double>{0.3, 0.2}, {0.1, 0.1}, {0.2, 0.3}}) {
    const double side = size.first * size.second / (2.0 * (size.first + size.second));
    for (const double difference : {3.0, 10.0, 40.0}) {
      const FilmAir film = properties(difference);
      for (int off = 0; off <= 90; off += 5) {
        INFO(size.first << " x " << size.second << ", " << difference << " K, " << off << " degrees off");
        const double upright =
            vertical_plate(rayleigh(difference, size.second) * std::cos(degrees(off)), film.prandtl).value /
            size.second;
        const double lying = face_up_plate(rayleigh(difference, side) * std::sin(degrees(off))).value / side;
        const double larger = film.conductivity.value * std::max(upright, lying);
        CHECK(coefficient(patch(size.first, size.second, 90.0 - off), difference) ==
              Approx(larger).epsilon(0.10));
      }
    }
  }
}

TEST_CASE("more difference, more heat, and never less than still air conducts") {
  for (const auto& size : sizes) {
    for (int angle = 0; angle <= 180; angle += 15) {
      const FilmLaw law = patch(size[0], size[1], angle);
      double last = flux(law, room - 60.0);
      for (double difference = -59.5; difference <= 60.0; difference += 0.5) {
        INFO(size[0] << " x " << size[1] << ", " << angle << " degrees, " << difference << " K");
        const double q = flux(law, room + difference);
        CHECK(q > last);
        CHECK(std::abs(q) >= properties(difference).conductivity.value * law.still * std::abs(difference));
        last = q;
      }
    }
  }
}

TEST_CASE("conduction into still air: disc, square and strip") {
  // Equal sides: the disc of the same area, 4 / sqrt(pi) on the root of the area (derived).
  CHECK(still_air_conductance(0.1, 0.1) * 0.1 == Approx(4.0 / std::sqrt(kPi)).epsilon(1e-14));
  // The square itself: capacity 0.3667 of its side (from memory), both faces 4 pi 0.3667, one half of it.
  CHECK(still_air_conductance(0.1, 0.1) * 0.1 == Approx(2.0 * kPi * 0.3667).epsilon(0.025));
  CHECK(still_air_conductance(0.3, 0.02) == Approx(still_air_conductance(0.02, 0.3)).epsilon(1e-14));
  CHECK(still_air_conductance(0.6, 0.04) == Approx(0.5 * still_air_conductance(0.3, 0.02)).epsilon(1e-14));
  // A long ellipse: K tends to ln(4 a/b), so the mean of the sides to pi a / (2 ln(4 a/b)) (derived).
  const double mean = kPi / (2.0 * std::log(4000.0));
  CHECK(still_air_conductance(1.0, 1e-3) == Approx(4.0 * mean / (std::sqrt(kPi) * 1e-3)).epsilon(1e-5));
}

TEST_CASE("blown along: derivatives, rest, and the plate law when fast") {
  const double w = 0.25, l = 0.18;
  for (const double speed : {0.0, 0.05, 1.0, 4.0}) {
    INFO("speed " << speed);
    const numerics::Sloped q = forced_flux(w, l, state, speed, 318.0, room);
    const auto by_surface = [&](double t) { return forced_flux(w, l, state, speed, t, room).value; };
    const auto by_room = [&](double t) { return forced_flux(w, l, state, speed, 318.0, t).value; };
    CHECK(q.slope[0] == Approx(central_difference(by_surface, 318.0, 1e-2)).epsilon(1e-6));
    CHECK(q.slope[1] == Approx(central_difference(by_room, room, 1e-2)).epsilon(1e-6));
  }
  const FilmAir film = film_air(state, 0.5 * (318.0 + room));
  CHECK(forced_flux(w, l, state, 0.0, 318.0, room).value ==
        Approx(film.conductivity.value * still_air_conductance(w, l) * (318.0 - room)).epsilon(1e-12));
  const double fast =
      forced_plate(film.reynolds.value * 4.0 * l, film.prandtl).value * film.conductivity.value / l;
  CHECK(forced_flux(w, l, state, 4.0, 318.0, room).value == Approx(fast * (318.0 - room)).epsilon(1e-3));
}

TEST_CASE("patches that cannot be are refused") {
  CHECK_THROWS_AS(film_law({0.0, 0.1, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(film_law({0.1, -0.1, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(film_law({0.1, 0.1, -0.1}), std::invalid_argument);
  CHECK_THROWS_AS(film_law({0.1, 0.1, 3.3}), std::invalid_argument);
}
