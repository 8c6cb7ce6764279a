#include "solver/physics/air.hpp"

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

// US Standard Atmosphere 1976.
constexpr double earth_radius = 6356766.0;  // [m], turns geometric into geopotential altitude
constexpr double sea_level_temperature = 288.15;
constexpr double lapse_rate = 0.0065;  // [K/m] of geopotential altitude, up to 11 km

}  // namespace

double standard_temperature(double altitude) {
  numerics::require_within(altitude, -500.0 - 1e-9, 11000.0, "altitude");
  const double geopotential = earth_radius * altitude / (earth_radius + altitude);
  return sea_level_temperature - lapse_rate * geopotential;
}

double standard_pressure(double altitude) {
  const double exponent = standard_gravity / (gas_constant * lapse_rate);
  return sea_level_pressure * std::pow(standard_temperature(altitude) / sea_level_temperature, exponent);
}

double saturation_pressure(double temperature) {
  const double celsius = temperature - numerics::kZeroCelsius;
  return 610.94 * std::exp(17.625 * celsius / (celsius + 243.04));
}

AirState room_air(double pressure, double temperature, double relative_humidity) {
  numerics::require_positive(pressure, "pressure");
  numerics::require_positive(temperature, "temperature");
  numerics::require_within(relative_humidity, -1e-12, 1.0, "relative humidity");
  return {pressure, relative_humidity * saturation_pressure(temperature)};
}

}  // namespace tuft::physics
