// Properties of air at the pressures and temperatures of a desk: ideal gas, with or without moisture.
#pragma once

#include <cmath>

namespace tuft::physics {

// What goes with temperature takes a number, or one with its slopes (numerics::Sloped).

/// Specific gas constant of dry air [J/(kg K)]: R*/M of the US Standard Atmosphere 1976, 8314.32 / 28.9644.
constexpr double gas_constant = 8314.32 / 28.9644;
/// Specific gas constant of water vapour [J/(kg K)]: CODATA R 8.314462618 over M 18.01528e-3 kg/mol.
constexpr double vapour_gas_constant = 8.314462618 / 18.01528e-3;
/// Standard gravity [m/s2] (exact, by definition).
constexpr double standard_gravity = 9.80665;
/// Sea-level pressure of the US Standard Atmosphere 1976 [Pa].
constexpr double sea_level_pressure = 101325.0;

/// What is the same everywhere in and around a device: absolute pressure and moisture. The differences of a
/// few pascals between places change the density by less than 0.1 % and are left out on purpose.
struct AirState {
  double pressure = sea_level_pressure;  ///< absolute [Pa], > 0
  double vapour_pressure = 0.0;          ///< partial pressure of water vapour [Pa], 0 <= it < pressure
};

/// Density [kg/m3] of moist air at temperature T [K], as a mixture of ideal gases:
/// rho = (p - e)/(R T) + e/(R_v T). Moist air is the lighter one.
template <typename T>
T density(const AirState& state, const T& temperature) {
  const double dry = state.pressure - state.vapour_pressure;
  return (dry / gas_constant + state.vapour_pressure / vapour_gas_constant) / temperature;
}

/// Dynamic viscosity [Pa s] by Sutherland's formula, mu = 1.458e-6 T^1.5 / (T + 110.4), constants of the US
/// Standard Atmosphere 1976. Moisture (< 1 % at room conditions) is left out. 200 K .. 500 K.
template <typename T>
T viscosity(const T& temperature) {
  using std::sqrt;
  return 1.458e-6 * temperature * sqrt(temperature) / (temperature + 110.4);
}

/// Thermal conductivity [W/(m K)], US Standard Atmosphere 1976:
/// k = 2.64638e-3 T^1.5 / (T + 245.4 * 10^(-12/T)). 200 K .. 500 K.
template <typename T>
T conductivity(const T& temperature) {
  using std::pow;
  using std::sqrt;
  return 2.64638e-3 * temperature * sqrt(temperature) /
         (temperature + 245.4 * pow(10.0, -12.0 / temperature));
}

/// Specific heat at constant pressure [J/(kg K)] of dry air: the cubic through the values 1006, 1007, 1009,
/// 1014 at 250, 300, 350, 400 K of Incropera et al., "Fundamentals of Heat and Mass Transfer", Table A.4.
/// 250 K .. 400 K.
template <typename T>
T specific_heat(const T& temperature) {
  const T s = (temperature - 300.0) / 50.0;
  return 1007.0 + s * (7.0 / 6.0 + s * (0.5 + s / 3.0));
}

/// Prandtl number mu cp / k [-].
template <typename T>
T prandtl(const T& temperature) {
  return viscosity(temperature) * specific_heat(temperature) / conductivity(temperature);
}

/// Pressure [Pa] of the US Standard Atmosphere 1976 (same as ISA there) at a geometric altitude [m],
/// -500 m .. 11 000 m; throws std::invalid_argument outside. Weather moves it by some +-3 %.
double standard_pressure(double altitude);

/// Temperature [K] of the US Standard Atmosphere 1976 at a geometric altitude [m], same range.
double standard_temperature(double altitude);

/// Saturation pressure of water vapour over liquid water [Pa], Magnus form with the constants of Alduchov &
/// Eskridge, "Improved Magnus form approximation of saturation vapor pressure", J. Appl. Meteor. 35 (1996)
/// 601-609, eq. 21: e = 610.94 exp(17.625 t / (t + 243.04)), t in degrees Celsius (constants as transcribed
/// in public code). -40 .. 50 C.
double saturation_pressure(double temperature);

/// Air of a room: its pressure [Pa], temperature [K] and relative humidity [-] (0..1).
AirState room_air(double pressure, double temperature, double relative_humidity);

}  // namespace tuft::physics
