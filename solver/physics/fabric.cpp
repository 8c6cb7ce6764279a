#include "solver/physics/fabric.hpp"

#include "solver/physics/air.hpp"
#include "solver/numerics/checks.hpp"

namespace tuft::elements {

FaceLaw fabric(double air_permeability, double test_pressure) {
  constexpr double test_temperature = 293.15;
  const double w = base::require_positive(air_permeability, "air permeability");
  const double dp = base::require_positive(test_pressure, "test pressure");
  return {dp / (air::viscosity(test_temperature) * w), 0.0};
}

}  // namespace tuft::elements
