// Air between a surface and a room: properties at the mean of the two temperatures, with their slopes.
#pragma once

#include "solver/physics/air.hpp"

namespace tuft::elements {

/// Properties at a film temperature; every `d_` is by that temperature.
struct FilmAir {
  double conductivity = 0.0;  ///< k [W/(m K)]
  double d_conductivity = 0.0;
  double prandtl = 0.0;  ///< [-]
  double d_prandtl = 0.0;
  double rayleigh = 0.0;  ///< g beta / (nu alpha) [1/(K m3)]: Rayleigh number per kelvin and cubic metre
  double d_log_rayleigh = 0.0;  ///< [1/K]
  double reynolds = 0.0;        ///< 1 / nu [s/m2]: Reynolds number per speed and length
  double d_log_reynolds = 0.0;  ///< [1/K]
};

/// Properties at the film temperature [K], 200 K .. 500 K; beta = 1/T of an ideal gas, standard gravity. Of
/// moisture only the density knows.
FilmAir film_air(const air::AirState& state, double film_temperature);

}  // namespace tuft::elements
