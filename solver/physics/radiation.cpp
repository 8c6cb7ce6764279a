#include "solver/physics/radiation.hpp"

#include "solver/numerics/checks.hpp"

namespace tuft::elements {

HeatFlux grey_flux(double emissivity, double surface, double surroundings) {
  const double factor = emissivity * stefan_boltzmann;
  const double s2 = surface * surface;
  const double r2 = surroundings * surroundings;
  // As a product, so that a small difference keeps its digits.
  const double value = factor * (s2 + r2) * (surface + surroundings) * (surface - surroundings);
  return {value, 4.0 * factor * s2 * surface, -4.0 * factor * r2 * surroundings};
}

double exchange_emissivity(double emissivity_a, double emissivity_b) {
  base::require_within(emissivity_a, 0.0, 1.0, "emissivity");
  base::require_within(emissivity_b, 0.0, 1.0, "emissivity");
  return 1.0 / (1.0 / emissivity_a + 1.0 / emissivity_b - 1.0);
}

}  // namespace tuft::elements
