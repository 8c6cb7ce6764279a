#include "solver/physics/foam.hpp"

#include "solver/numerics/checks.hpp"

namespace tuft::physics {

FaceLaw foam_layer(double permeability, double inertia, double thickness) {
  const double k = numerics::require_positive(permeability, "permeability");
  const double c = numerics::require_not_negative(inertia, "Forchheimer coefficient");
  const double t = numerics::require_not_negative(thickness, "layer thickness");
  return {t / k, t * c};
}

FaceLaw foam(double permeability, double inertia, double thickness, const Opening& face) {
  // The bare hole behind the foam is the edge of the wall, not a tube as long as the layer: thickness 0.
  return cover_in_wall(foam_layer(permeability, inertia, thickness), face, 0.0);
}

}  // namespace tuft::physics
