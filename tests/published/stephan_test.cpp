// Stephan K. (1959) Chem.-Ing.-Tech. 31:773-778, plates, flow and temperature developing together:
// 7.55 + 0.024 x^-1.14 / (1 + 0.0358 Pr^0.17 x^-0.64). Formula confirmed in two public programs, the paper
// from memory. It lies some 10 % below the VDI law where the two developments meet.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/fin_heat.hpp"

using namespace tuft::physics;

TEST_CASE("Stephan: plates with both profiles developing, within 11 % (confirmed)", "[outside:1]") {
  for (double x = 5e-4; x < 0.5; x *= 1.2) {
    INFO("x* " << x);
    const double stephan =
        7.55 + 0.024 * std::pow(x, -1.14) / (1.0 + 0.0358 * std::pow(0.7, 0.17) * std::pow(x, -0.64));
    CHECK(channel_nusselt(0.0, 1.0 / x, 0.7, Entry::flat).value == Approx(stephan).epsilon(0.11));
  }
}
