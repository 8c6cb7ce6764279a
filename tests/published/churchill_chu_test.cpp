// Churchill S.W., Chu H.H.S. (1975) "Correlating equations for laminar and turbulent free convection from a
// vertical plate", Int. J. Heat Mass Transfer 18:1323-1329. The formula is confirmed in public code and in
// a transcription of the ASHRAE Handbook - Fundamentals ch. 4 (T9.3); the numbers of the table are derived
// from it, independently of our code.
#include <catch2/catch.hpp>

#include "solver/physics/film.hpp"

using namespace tuft;
using namespace tuft::physics;

TEST_CASE("Churchill & Chu: table for Pr 0.71, Ra 1e4 .. 1e9 (derived)", "[derived:6]") {
  const double table[][2] = {{1e4, 5.43}, {1e5, 9.21}, {1e6, 16.56}, {1e7, 31.2}, {1e8, 61.1}, {1e9, 122.9}};
  for (const auto& row : table) {
    INFO("Ra " << row[0]);
    CHECK(vertical_plate(row[0], 0.71).value == Approx(row[1]).epsilon(2e-3));
  }
}

TEST_CASE("Churchill & Chu: a patch that stands follows the table (derived)", "[derived:4]") {
  const double h = 0.15, room = 293.15;
  const FilmLaw law = film_law({0.3, h, 1.5707963267948966});
  for (const double difference : {0.05, 0.5, 5.0, 50.0}) {
    const FilmAir film = film_air({101325.0, 0.0}, room + 0.5 * difference);
    const double rayleigh = film.rayleigh.value * difference * h * h * h;
    const double expected = vertical_plate(rayleigh, film.prandtl).value * film.conductivity.value / h;
    INFO("Ra " << rayleigh);
    CHECK(film_flux(law, {101325.0, 0.0}, room + difference, room).value ==
          Approx(expected * difference).epsilon(1e-3));
  }
}
