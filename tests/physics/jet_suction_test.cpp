#include "solver/physics/jet_suction.hpp"

#include <catch2/catch.hpp>

using namespace tuft::physics;

// A line of sinks of strength sigma = 0.282 sqrt(M/rho) along the jet, and its image behind the wall: u =
// sigma/(2 pi r) at the wall (derived). M/rho = Q^2/A.
TEST_CASE("2 L/s out of 3.2 cm2 draws on what lies 30 mm beside it with 0.017 Pa (derived by hand)") {
  // sqrt(M/rho) = 2e-3/sqrt(3.2e-4) = 0.1118; u = 0.03153/(2 pi 0.03) = 0.1673 m/s; 0.6 u^2 = 0.0168.
  CHECK(jet_suction(2e-3, 3.2e-4, 0.03, 1.2) == Approx(0.0168).epsilon(0.005));
}

TEST_CASE("suction grows with the square of the flow and falls with the square of the distance") {
  const double here = jet_suction(1e-3, 2e-4, 0.05, 1.2);
  CHECK(jet_suction(2e-3, 2e-4, 0.05, 1.2) == Approx(4.0 * here));
  CHECK(jet_suction(1e-3, 2e-4, 0.10, 1.2) == Approx(0.25 * here));
  CHECK(jet_suction(0.0, 2e-4, 0.05, 1.2) == 0.0);
  // Inside the outlet itself it is no more than at its edge.
  CHECK(jet_suction(1e-3, 2e-4, 0.0, 1.2) == jet_suction(1e-3, 2e-4, 0.007, 1.2));
}
