// Shah R.K., "A correlation for laminar hydrodynamic entry length solutions for circular and noncircular
// ducts", J. Fluids Eng. 100 (1978) 177-179:
//     f_app Re = 3.44/sqrt(x+) + (K/(4 x+) + f Re - 3.44/sqrt(x+)) / (1 + C x+^-2),   x+ = L/(Dh Re).
// 3.44 and the form confirmed in public code; between plates f Re 24 (derived), K 0.674, C 2.9e-5 (from
// memory).
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/fin_heat.hpp"
#include "solver/physics/openings.hpp"

using namespace tuft::physics;

namespace {

double shah(double x) {
  const double entry = 3.44 / std::sqrt(x);
  return entry + (0.674 / (4.0 * x) + 24.0 - entry) / (1.0 + 2.9e-5 / (x * x));
}

/// Apparent friction factor times Re of our fins between plates at x+: fins that fill the face.
double ours(double x) {
  const FinChannels plates{10.0, 1e-3, 10.0, 0.012};
  const FaceLaw law = fin_stack(plates, plates.area());
  const double dh = hydraulic_diameter(1e-3, 10.0);
  const double re = plates.length / (dh * x);
  // dp = (viscous/(dh) / Re * dh + inertial) rho w^2 = 4 f_app (L/Dh) rho w^2 / 2
  const double per_dynamic = law.viscous * dh / re + law.inertial;
  return per_dynamic * dh / (2.0 * plates.length) * re;
}

}  // namespace

TEST_CASE(
    "Shah 1978: friction with developing flow between fins, x+ >= 0.005, within 12 % (K, C from memory)",
    "[memory:7]") {
  for (const double x : {0.005, 0.007, 0.01, 0.02, 0.05, 0.1, 1.0}) {
    INFO("x+ " << x);
    CHECK(ours(x) == Approx(shah(x)).epsilon(0.12));
  }
}

TEST_CASE("Shah 1978: shorter fins lose less than ours, by no more than K(inf) velocity heads (as above)",
          "[memory:4]") {
  for (const double x : {1e-5, 1e-4, 1e-3, 3e-3}) {
    const double excess = 4.0 * x * (ours(x) - shah(x));
    INFO("x+ " << x);
    CHECK(excess > 0.0);
    CHECK(excess < development_loss(0.0));
  }
}
