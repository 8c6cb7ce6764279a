#include "solver/physics/air.hpp"

#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {

namespace {

// US Standard Atmosphere 1976.
constexpr double sutherland_beta = 1.458e-6;  // [kg/(s m K^0.5)]
constexpr double sutherland_s = 110.4;        // [K]
constexpr double earth_radius = 6356766.0;    // [m], turns geometric into geopotential altitude
constexpr double sea_level_temperature = 288.15;
constexpr double lapse_rate = 0.0065;  // [K/m] of geopotential altitude, up to 11 km

/// rho T [kg K/m3], the same at every temperature.
double density_times_temperature(const AirState& state) {
  const double dry = state.pressure - state.vapour_pressure;
  return dry / gas_constant + state.vapour_pressure / vapour_gas_constant;
}

}  // namespace

double density(const AirState& state, double temperature) {
  return density_times_temperature(state) / temperature;
}

double density_slope(const AirState& state, double temperature) {
  return -density_times_temperature(state) / (temperature * temperature);
}

double viscosity(double temperature) {
  return sutherland_beta * temperature * std::sqrt(temperature) / (temperature + sutherland_s);
}

double viscosity_slope(double temperature) {
  return viscosity(temperature) * (1.5 / temperature - 1.0 / (temperature + sutherland_s));
}

double conductivity(double temperature) {
  const double denominator = temperature + 245.4 * std::pow(10.0, -12.0 / temperature);
  return 2.64638e-3 * temperature * std::sqrt(temperature) / denominator;
}

double conductivity_slope(double temperature) {
  const double second = 245.4 * std::pow(10.0, -12.0 / temperature);
  const double second_slope = second * std::log(10.0) * 12.0 / (temperature * temperature);
  return conductivity(temperature) * (1.5 / temperature - (1.0 + second_slope) / (temperature + second));
}

double specific_heat(double temperature) {
  const double s = (temperature - 300.0) / 50.0;
  return 1007.0 + s * (7.0 / 6.0 + s * (0.5 + s / 3.0));
}

double specific_heat_slope(double temperature) {
  const double s = (temperature - 300.0) / 50.0;
  return (7.0 / 6.0 + s * (1.0 + s)) / 50.0;
}

double prandtl(double temperature) {
  return viscosity(temperature) * specific_heat(temperature) / conductivity(temperature);
}

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
