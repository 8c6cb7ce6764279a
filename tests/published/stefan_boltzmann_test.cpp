// Stefan-Boltzmann constant from the exact constants of the SI (Bureau International des Poids et Mesures, SI
// Brochure, 9th ed. 2019: h 6.62607015e-34 J s, k 1.380649e-23 J/K, c 299792458 m/s; from memory), and what a
// thermal camera makes of a shiny surface.
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/physics/radiation.hpp"

using namespace tuft::physics;

TEST_CASE("Stefan-Boltzmann constant: 2 pi^5 k^4 / (15 h^3 c^2) (derived)", "[derived:2]") {
  const double pi = 3.14159265358979323846, h = 6.62607015e-34, k = 1.380649e-23, c = 299792458.0;
  const double sigma = 2.0 * std::pow(pi, 5.0) * std::pow(k, 4.0) / (15.0 * h * h * h * c * c);
  CHECK(stefan_boltzmann == Approx(sigma).epsilon(1e-9));
  CHECK(grey_flux(1.0, 300.0, 0.0).value == Approx(459.3).epsilon(1e-4));
}

// Measurement equation of infrared thermography over a short path, W_tot = eps W_obj + (1 - eps) W_refl
// (confirmed in public camera manuals): set to emissivity 1, the camera shows the black surface of the same
// net flux.
TEST_CASE("bare aluminium (0.05) at 60 C in a room of 22 C reads 24.3 C with emissivity 1 (derived)",
          "[derived:1]") {
  const double net = grey_flux(0.05, 333.15, 295.15).value;
  double low = 295.15, high = 333.15;
  while (high - low > 1e-9) {
    const double middle = 0.5 * (low + high);
    (grey_flux(1.0, middle, 295.15).value < net ? low : high) = middle;
  }
  CHECK(low - 273.15 == Approx(24.3).margin(0.06));
}
