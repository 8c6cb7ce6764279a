// Numbers that many laws share.
#pragma once

namespace tuft::numerics {

constexpr double kPi = 3.14159265358979323846;
constexpr double kDegree = kPi / 180.0;  ///< [rad]
constexpr double kZeroCelsius = 273.15;  ///< [K], definition of the degree Celsius
constexpr double kDeviations95 = 1.96;   ///< half the central 95 % of a normal distribution, in deviations

}  // namespace tuft::numerics
