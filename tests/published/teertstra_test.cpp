// Teertstra P., Yovanovich M.M., Culham J.R. (2000) J. Electron. Manuf. 10:253-262, plate-fin channels of one
// temperature, 0.1 < Re* < 100, 2.1 % RMS against experiment (range and accuracy confirmed in the abstract;
// the formula is from memory, numbers derived from it): with Re* = Re_b b/L and Nu_b = h b/k on the inlet
// difference, Nu_b = [(Re* Pr/2)^-3 + (0.664 Re*^(1/2) Pr^(1/3) (1 + 3.65/Re*^(1/2))^(1/2))^-3]^(-1/3).
#include <catch2/catch.hpp>

#include "solver/physics/fin_heat.hpp"

using namespace tuft::physics;

TEST_CASE("Teertstra et al.: channel, effectiveness and all, within 5 % (from memory)", "[memory:4]") {
  const double table[][2] = {{0.1, 0.0355}, {1.0, 0.3525}, {10.0, 2.421}, {100.0, 6.904}};
  const double prandtl = 0.71;
  for (const auto& row : table) {
    INFO("Re* " << row[0]);
    // Unit gap, length, width and conductivity: m cp = Re* Pr, area 2, Dh = 2 and z = 4 Re* Pr.
    const double capacity = row[0] * prandtl;
    const double h = channel_nusselt(0.0, 4.0 * capacity, prandtl, Entry::flat).value / 2.0;
    CHECK(carried_heat(capacity, 1.0, 2.0 * h).value / 2.0 == Approx(row[1]).epsilon(0.05));
  }
}
