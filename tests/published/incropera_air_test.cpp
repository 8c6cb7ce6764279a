// Incropera F.P. et al., "Fundamentals of Heat and Mass Transfer", Table A.4, air at atmospheric pressure.
// Confirmed in public code that carries the table; densities are from memory. The table's densities are those
// of an ideal gas at 1 bar, not at 1 atm: 1.1614 kg/m3 * 287.05 J/(kg K) * 300 K = 1.0001e5 Pa, and nu =
// mu/rho follows them.
#include <catch2/catch.hpp>

#include "solver/physics/air.hpp"

using namespace tuft;

namespace {

struct Row {
  double t, rho, cp, mu, nu, k, pr;
};
const Row table[] = {{250.0, 1.3947, 1006.0, 159.6e-7, 11.44e-6, 22.3e-3, 0.720},
                     {300.0, 1.1614, 1007.0, 184.6e-7, 15.89e-6, 26.3e-3, 0.707},
                     {350.0, 0.9950, 1009.0, 208.2e-7, 20.92e-6, 30.0e-3, 0.700},
                     {400.0, 0.8711, 1014.0, 230.1e-7, 26.41e-6, 33.8e-3, 0.690}};

}  // namespace

TEST_CASE("Incropera A.4: viscosity within 0.8 % (confirmed)", "[outside:4]") {
  for (const Row& row : table) CHECK(physics::viscosity(row.t) == Approx(row.mu).epsilon(8e-3));
}

TEST_CASE("Incropera A.4: conductivity within 1 % (confirmed)", "[outside:4]") {
  for (const Row& row : table) CHECK(physics::conductivity(row.t) == Approx(row.k).epsilon(1e-2));
}

TEST_CASE("Incropera A.4: specific heat, exactly (confirmed; our cubic goes through it)", "[echo:4]") {
  for (const Row& row : table) CHECK(physics::specific_heat(row.t) == Approx(row.cp).epsilon(1e-12));
}

TEST_CASE("Incropera A.4: Prandtl number within 1.5 % (confirmed)", "[outside:4]") {
  for (const Row& row : table) CHECK(physics::prandtl(row.t) == Approx(row.pr).epsilon(1.5e-2));
}

TEST_CASE("Incropera A.4: kinematic viscosity within 1 % (confirmed), density within 0.2 % (from memory)",
          "[outside:4][memory:4]") {
  for (const Row& row : table) {
    const double rho = physics::density({1e5, 0.0}, row.t);
    CHECK(rho == Approx(row.rho).epsilon(2e-3));
    CHECK(physics::viscosity(row.t) / rho == Approx(row.nu).epsilon(1e-2));
  }
}

// ASHRAE Handbook - Fundamentals, ch. 4 Example 12: air at 27 C rho 1.176, k 0.02566, mu 185.8e-7
// (confirmed). Books differ in k by 2-3 %.
TEST_CASE("ASHRAE ch. 4 Example 12: air at 27 C (confirmed)", "[outside:3]") {
  CHECK(physics::density({101325.0, 0.0}, 300.15) == Approx(1.176).margin(5e-4));
  CHECK(physics::viscosity(300.15) == Approx(185.8e-7).epsilon(8e-3));
  CHECK(physics::conductivity(300.15) == Approx(0.02566).epsilon(0.03));
}
