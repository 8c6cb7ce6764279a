// Radziemska E., Lewandowski W.M. (2001) Applied Energy 68:347-366: hot plate facing down, 0.52 Ra^(1/5). The
// formula is confirmed in public course notes ("newer books"); the authors are from memory.
#include <catch2/catch.hpp>

#include "solver/elements/plate_nusselt.hpp"

using namespace tuft::elements;

TEST_CASE("hot face down, newer law: 0.52 Ra^(1/5) (confirmed), against the older one (derived)") {
  CHECK(face_down_plate_newer(1e5).value == Approx(5.2).epsilon(1e-12));
  CHECK(face_down_plate_newer(1e4).value / face_down_plate(1e4).value == Approx(1.215).epsilon(1e-3));
  CHECK(face_down_plate_newer(4.9e5).value == Approx(face_down_plate(4.9e5).value).epsilon(2e-3));
}
