// Nada & Moawed 2004 and Alhajeri 2016: with slots in the top, the Nusselt number of the heated wall falls as
// the box is tilted, while the air in our box gets cooler up to 90 degrees. What they measured is the wall's
// own temperature.
#include <catch2/catch.hpp>
#include <cmath>

#include "geometry/casefile/case_file.hpp"
#include "solver/physics/film.hpp"
#include "solver/study/predict.hpp"

using namespace tuft;

namespace {

constexpr double kFlux = 250.0;  ///< of the heated wall [W/m2], as published

/// Rise over its air at which a wall of 0.4 m sheds the flux by its film alone; tilt 0: facing up [K].
double film_rise(double air, double tilt) {
  const physics::FilmLaw law = physics::film_law({0.4, 0.4, tilt});
  double low = 0.0, high = 1000.0;
  while (high - low > 1e-6) {
    const double middle = 0.5 * (low + high);
    (physics::film_flux(law, {101325.0, 0.0}, air + middle, air).value < kFlux ? low : high) = middle;
  }
  return low;
}

/// Mean temperature of the air in the box of cases/measured/tilted-box.yaml in a condition [K].
double air_in(const std::string& condition) {
  const auto read = casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/cases/measured/tilted-box.yaml");
  REQUIRE(read.errors.empty());
  const auto& conditions = read.file.content.conditions;
  for (std::size_t i = 0; i < conditions.size(); ++i)
    if (conditions[i].name == condition)
      return study::predict(read.file.content, static_cast<int>(i)).zones.front().temperature;
  FAIL("no condition " << condition);
  return 0.0;
}

constexpr double kTestRoom = 298.15;

}  // namespace

TEST_CASE("a wall needs a larger rise over its air the further it is tilted from facing up") {
  const double quarter = 0.25 * 3.14159265358979;
  double last = 0.0;
  for (int step = 0; step <= 4; ++step) {
    INFO(45 * step << " degrees");
    CHECK(film_rise(310.0, step * quarter) > last + 2.0);
    last = film_rise(310.0, step * quarter);
  }
}

TEST_CASE("tilted to 90 degrees the wall's film takes back most of what its air gains") {
  const double level = air_in("top-0"), upright = air_in("top-90");
  const double right_angle = 0.5 * 3.14159265358979;
  const double air = level - upright;  // that much cooler, by the network
  const double film = film_rise(upright, right_angle) - film_rise(level, 0.0);
  CHECK(film > 0.5 * air);
  CHECK(film < 1.5 * air);
}
