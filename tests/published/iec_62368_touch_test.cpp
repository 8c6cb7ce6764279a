// IEC 62368-1, touch temperature limits (table 42 in early editions, 38 in later ones). Metal and plastic
// confirmed in a public reproduction of a certification body's brief; glass and wood from
// memory.
#include <catch2/catch.hpp>

#include "solver/physics/touch_limits.hpp"

using namespace tuft::physics;

namespace {

const double durations[] = {0.5, 5.0, 30.0, 600.0};

void check(TouchMaterial material, const double (&celsius)[4], Provenance provenance) {
  for (int i = 0; i < 4; ++i) {
    INFO("duration " << durations[i]);
    const TouchLimit limit = touch_limit(material, durations[i]);
    CHECK(limit.temperature - 273.15 == Approx(celsius[i]));
    CHECK(limit.provenance == provenance);
  }
}

}  // namespace

TEST_CASE("IEC 62368-1: metal 70, 60, 51, 48 C and plastic 94, 77, 60, 48 C (confirmed)", "[echo:8]") {
  check(TouchMaterial::metal, {70.0, 60.0, 51.0, 48.0}, Provenance::confirmed);
  check(TouchMaterial::plastic, {94.0, 77.0, 60.0, 48.0}, Provenance::confirmed);
}

TEST_CASE("IEC 62368-1: glass 85, 71, 56, 48 C and wood 140, 107, 60, 48 C (from memory)", "[echo:8]") {
  check(TouchMaterial::glass, {85.0, 71.0, 56.0, 48.0}, Provenance::from_memory);
  check(TouchMaterial::wood, {140.0, 107.0, 60.0, 48.0}, Provenance::from_memory);
}
