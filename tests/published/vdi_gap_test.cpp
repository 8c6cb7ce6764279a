// VDI-Waermeatlas, 9th edition, Springer 2002, section Gb: laminar flow in an even gap with both walls at one
// temperature: Nu1 = 7.541, Nu2 = 1.841 z^(1/3), Nu3 = [2/(1 + 22 Pr)]^(1/6) z^(1/2), Nu^3 = sum of cubes.
// Confirmed in a public library that carries it; numbers derived by hand.
#include <catch2/catch.hpp>

#include "solver/physics/fin_heat.hpp"

using namespace tuft::physics;

TEST_CASE("VDI Gb: even gap, developed and undeveloped flow (confirmed, values derived)", "[derived:2]") {
  // z = 100, Pr = 0.7: cubes 428.83, 623.96 and sqrt(2/16.4) 1000 = 349.22.
  CHECK(channel_nusselt(0.0, 100.0, 0.7, Entry::developed).value == Approx(10.173).epsilon(2e-4));
  CHECK(channel_nusselt(0.0, 100.0, 0.7, Entry::flat).value == Approx(11.192).epsilon(2e-4));
}
