// ISO 9237:1995, air permeability of fabrics: velocity through the fabric at a set pressure difference
// (definition confirmed in the standard's abstract; 100 Pa for clothing, and 125 Pa of ASTM D737, from
// memory).
#include <catch2/catch.hpp>

#include "solver/physics/air.hpp"
#include "solver/physics/openings.hpp"

using namespace tuft;

TEST_CASE("ISO 9237: the stated velocity comes back at the stated pressure (confirmed definition)",
          "[echo:3]") {
  const double mu = physics::viscosity(293.15);
  for (const double w : {0.05, 0.3, 1.2}) {
    const physics::FaceLaw cloth = physics::fabric(w);
    CHECK(cloth.viscous * mu * w == Approx(100.0).epsilon(1e-12));
    CHECK(cloth.inertial == 0.0);
  }
}

TEST_CASE("ASTM D737: the same cloth tested at 125 Pa is the same law (derived, from memory for 125 Pa)",
          "[derived:1]") {
  CHECK(physics::fabric(0.375, 125.0).viscous == Approx(physics::fabric(0.3).viscous));
}
