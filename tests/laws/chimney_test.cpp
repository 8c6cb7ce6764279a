// Warm gap between parallel walls: derivatives, limits, symmetry.
#include "solver/elements/chimney.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "solver/elements/film.hpp"
#include "tests/laws/difference.hpp"

using namespace tuft;
using namespace tuft::elements;
using tuft::test::central_difference;

namespace {

const air::AirState sea_level{101325.0, 0.0};
const double room_temperature = 294.15;

}  // namespace

TEST_CASE("chimney Nusselt number: derivative and both ends") {
  for (const ChimneyWalls walls : {ChimneyWalls::BothHeated, ChimneyWalls::OneHeated}) {
    const auto value = [&](double el) { return chimney_nusselt(el, walls).value; };
    for (const double el : {1e-3, 0.5, 30.0, 800.0, 1e5}) {
      CHECK(chimney_nusselt(el, walls).d_elenbaas ==
            Approx(central_difference(value, el, 1e-4 * el)).epsilon(1e-7));
    }
    const double developed = walls == ChimneyWalls::BothHeated ? 24.0 : 12.0;
    CHECK(chimney_nusselt(0.0, walls).value == 0.0);
    CHECK(chimney_nusselt(1e-3, walls).value == Approx(1e-3 / developed).epsilon(1e-4));
    CHECK(chimney_nusselt(1e8, walls).value == Approx(0.59 * 100.0).epsilon(1e-3));
  }
}

TEST_CASE("chimney flux: derivatives are those of the value") {
  for (const double gap : {0.004, 0.012, 0.05}) {
    for (const double difference : {-15.0, 2.0, 30.0}) {
      INFO("gap " << gap << ", " << difference << " K");
      const Chimney chimney{gap, 0.2, 0.9, ChimneyWalls::OneHeated};
      const double wall = room_temperature + difference;
      const HeatFlux q = chimney_flux(chimney, sea_level, wall, room_temperature);
      const auto by_wall = [&](double t) {
        return chimney_flux(chimney, sea_level, t, room_temperature).value;
      };
      const auto by_room = [&](double t) { return chimney_flux(chimney, sea_level, wall, t).value; };
      const double step = 1e-4 * std::abs(difference);
      CHECK(q.d_surface == Approx(central_difference(by_wall, wall, step)).epsilon(1e-6));
      CHECK(q.d_other == Approx(central_difference(by_room, room_temperature, step)).epsilon(1e-6));
    }
  }
}

TEST_CASE("chimney flux: nothing without difference or lying down, the cold wall mirrors the hot one") {
  const Chimney chimney{0.01, 0.2, 1.0, ChimneyWalls::OneHeated};
  const HeatFlux none = chimney_flux(chimney, sea_level, room_temperature, room_temperature);
  CHECK(none.value == 0.0);
  CHECK(none.d_surface == 0.0);
  CHECK(chimney_flux({0.01, 0.2, 0.0, ChimneyWalls::OneHeated}, sea_level, 330.0, room_temperature).value ==
        0.0);
  CHECK(chimney_flux(chimney, sea_level, 290.0, 310.0).value ==
        Approx(-chimney_flux(chimney, sea_level, 310.0, 290.0).value).epsilon(1e-14));
}

TEST_CASE("chimney flux: a wider gap lets more heat out, a wide one as much as a free wall") {
  double last = 0.0;
  for (double gap = 0.002; gap < 0.3; gap *= 1.2) {
    const double q =
        chimney_flux({gap, 0.2, 1.0, ChimneyWalls::OneHeated}, sea_level, 318.0, room_temperature).value;
    CHECK(q > last);
    last = q;
  }
  const double free_wall =
      film_flux(film_law({2.0, 0.2, 1.5707963267948966}), sea_level, 318.0, room_temperature).value;
  CHECK(last == Approx(free_wall).epsilon(0.1));
}
