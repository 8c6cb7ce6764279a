// Plate laws as published: derivatives, joins, limits.
#include "solver/physics/film.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/physics/difference.hpp"
#include "tests/support/laminar_plate.hpp"

using namespace tuft::physics;
using tuft::numerics::Sloped;
using tuft::test::central_difference;
using tuft::test::laminar_plate;

TEST_CASE("plate Nusselt numbers: derivatives are those of the value") {
  const auto check = [](auto law, double rayleigh, double prandtl) {
    const Sloped at = law(Sloped(rayleigh, 1.0, 0.0), Sloped(prandtl, 0.0, 1.0));
    const auto by_log = [&](double x) { return law(std::exp(x), prandtl).value; };
    const auto by_prandtl = [&](double x) { return law(rayleigh, x).value; };
    INFO("Ra " << rayleigh << " Pr " << prandtl);
    CHECK(rayleigh * at.slope[0] ==
          Approx(central_difference(by_log, std::log(rayleigh), 1e-5)).epsilon(1e-7));
    CHECK(at.slope[1] == Approx(central_difference(by_prandtl, prandtl, 1e-5)).epsilon(1e-7).margin(1e-9));
  };
  for (double rayleigh = 0.5; rayleigh < 1e11; rayleigh *= 1.7) {
    for (const double prandtl : {0.68, 0.71, 0.75}) check(vertical_plate, rayleigh, prandtl);
    check([](const Sloped& ra, const Sloped&) { return face_up_plate(ra); }, rayleigh, 0.71);
    check([](const Sloped& ra, const Sloped&) { return face_down_plate(ra); }, rayleigh, 0.71);
  }
}

TEST_CASE("plate Nusselt numbers at no difference") {
  CHECK(vertical_plate(0.0, 0.71).value == Approx(0.825 * 0.825).epsilon(1e-15));
  CHECK(vertical_plate(Sloped(0.0, 1.0, 0.0), 0.71).slope[0] == 0.0);
  CHECK(face_up_plate(0.0).value == 0.0);
  CHECK(face_down_plate(0.0).value == 0.0);
}

TEST_CASE("face up: rises steadily and joins without a step or a kink") {
  Sloped last = face_up_plate({0.5, 0.5, 0.0});  // its slope by ln Ra
  for (double rayleigh = 0.5 * 1.002; rayleigh < 2e9; rayleigh *= 1.002) {
    INFO("Ra " << rayleigh);
    const Sloped here = face_up_plate({rayleigh, rayleigh, 0.0});
    CHECK(here.value > last.value);
    CHECK(here.value / last.value < 1.001);
    CHECK(std::abs(here.slope[0] / here.value - last.slope[0] / last.value) < 2e-3);
    last = here;
  }
}

TEST_CASE("the vertical law agrees with the laminar form of its authors, Ra 1e4 to 1e7, within 7 %",
          "[outside:1]") {
  for (double rayleigh = 1e4; rayleigh <= 1e7; rayleigh *= 1.3) {
    const double ratio = vertical_plate(rayleigh, 0.71).value / laminar_plate(rayleigh, 0.71);
    CHECK(ratio > 0.93);
    CHECK(ratio < 1.06);
  }
}
