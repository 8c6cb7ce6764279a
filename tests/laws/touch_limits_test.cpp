// Looking up touch temperature limits.
#include "solver/elements/touch_limits.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

using namespace tuft::elements;

TEST_CASE("touch limits: never rise with the duration, never fall from metal to wood") {
  const auto& table = touch_table();
  for (std::size_t row = 0; row < table.size(); ++row) {
    for (std::size_t material = 0; material < 4; ++material) {
      const double here = table[row].limits[material].temperature;
      if (row > 0) {
        CHECK(here <= table[row - 1].limits[material].temperature);
        CHECK(table[row].shorter_than > table[row - 1].shorter_than);
      }
      if (material > 0) CHECK(here >= table[row].limits[material - 1].temperature);
      CHECK(here > prolonged_contact_threshold);
    }
  }
}

TEST_CASE("touch limits: the border of two durations belongs to the lower limit") {
  CHECK(touch_limit(TouchMaterial::Metal, 0.999).temperature == Approx(343.15));
  CHECK(touch_limit(TouchMaterial::Metal, 1.0).temperature == Approx(333.15));
  CHECK(touch_limit(TouchMaterial::Metal, 10.0).temperature == Approx(324.15));
  CHECK(touch_limit(TouchMaterial::Metal, 60.0).temperature == Approx(321.15));
  CHECK(touch_limit(TouchMaterial::Metal, 1e6).temperature == Approx(321.15));
}

TEST_CASE("touch limits: a class, a provenance, and no contact of no duration") {
  for (const double duration : {0.5, 5.0, 30.0, 3600.0}) {
    CHECK(touch_limit(TouchMaterial::Plastic, duration, TouchClass::TS2).temperature ==
          Approx(touch_limit(TouchMaterial::Plastic, duration).temperature + 10.0));
  }
  CHECK(touch_limit(TouchMaterial::Metal, 5.0).provenance == Provenance::Confirmed);
  CHECK(touch_limit(TouchMaterial::Plastic, 5.0).provenance == Provenance::Confirmed);
  CHECK(touch_limit(TouchMaterial::Glass, 5.0).provenance == Provenance::FromMemory);
  CHECK(touch_limit(TouchMaterial::Wood, 5.0).provenance == Provenance::FromMemory);
  CHECK_THROWS_AS(touch_limit(TouchMaterial::Wood, 0.0), std::invalid_argument);
}
