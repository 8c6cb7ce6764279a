#include "solver/physics/film_air.hpp"

namespace tuft::elements {

FilmAir film_air(const air::AirState& state, double film_temperature) {
  const double t = film_temperature;
  const double density = air::density(state, t);
  const double viscosity = air::viscosity(t);
  const double specific_heat = air::specific_heat(t);
  FilmAir out;
  out.conductivity = air::conductivity(t);
  out.d_conductivity = air::conductivity_slope(t);
  out.prandtl = viscosity * specific_heat / out.conductivity;
  const double log_viscosity = air::viscosity_slope(t) / viscosity;
  const double log_specific_heat = air::specific_heat_slope(t) / specific_heat;
  const double log_conductivity = out.d_conductivity / out.conductivity;
  out.d_prandtl = out.prandtl * (log_viscosity + log_specific_heat - log_conductivity);
  // g beta / (nu alpha) = g rho^2 cp / (T mu k); rho falls as 1/T.
  out.rayleigh =
      air::standard_gravity * density * density * specific_heat / (t * viscosity * out.conductivity);
  out.d_log_rayleigh = -3.0 / t + log_specific_heat - log_viscosity - log_conductivity;
  out.reynolds = density / viscosity;
  out.d_log_reynolds = -1.0 / t - log_viscosity;
  return out;
}

}  // namespace tuft::elements
