// Looking up touch temperature limits.
#include "solver/physics/touch_limits.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

using namespace tuft::physics;

TEST_CASE("touch limits: never rise with the duration, never fall from metal to wood") {
  constexpr TouchMaterial kMaterials[] = {TouchMaterial::metal, TouchMaterial::glass, TouchMaterial::plastic,
                                          TouchMaterial::wood};
  // ISO 13732-1:2006: burn threshold of any material for contact of eight hours and longer, 43 C (confirmed
  // in two public texts that cite it).
  constexpr double kBurnThreshold = 43.0 + 273.15;
  for (double duration = 0.1; duration < 1e5; duration *= 1.1) {
    for (int i = 0; i < 4; ++i) {
      const double here = touch_limit(kMaterials[i], duration).temperature;
      CHECK(here <= touch_limit(kMaterials[i], duration / 1.1).temperature);
      if (i > 0) CHECK(here >= touch_limit(kMaterials[i - 1], duration).temperature);
      CHECK(here > kBurnThreshold);
    }
  }
}

TEST_CASE("touch limits: the border of two durations belongs to the lower limit") {
  CHECK(touch_limit(TouchMaterial::metal, 0.999).temperature == Approx(343.15));
  CHECK(touch_limit(TouchMaterial::metal, 1.0).temperature == Approx(333.15));
  CHECK(touch_limit(TouchMaterial::metal, 10.0).temperature == Approx(324.15));
  CHECK(touch_limit(TouchMaterial::metal, 60.0).temperature == Approx(321.15));
  CHECK(touch_limit(TouchMaterial::metal, 1e6).temperature == Approx(321.15));
}

TEST_CASE("touch limits: a provenance, and no contact of no duration") {
  CHECK(touch_limit(TouchMaterial::metal, 5.0).provenance == Provenance::confirmed);
  CHECK(touch_limit(TouchMaterial::plastic, 5.0).provenance == Provenance::confirmed);
  CHECK(touch_limit(TouchMaterial::glass, 5.0).provenance == Provenance::from_memory);
  CHECK(touch_limit(TouchMaterial::wood, 5.0).provenance == Provenance::from_memory);
  CHECK_THROWS_AS(touch_limit(TouchMaterial::wood, 0.0), std::invalid_argument);
}
