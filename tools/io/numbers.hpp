// Numbers as a person wants to read them: few digits, familiar units.
#pragma once

#include <string>
#include <vector>

namespace tuft::output {

/// The value with so many significant digits, in plain decimal writing, at most `most_decimals` after the
/// point. What rounds to nothing is "0", never "-0".
std::string significant(double value, int digits, int most_decimals = 6);

/// The same with its sign in front, also when positive.
std::string signed_significant(double value, int digits, int most_decimals = 6);

/// Numbers brought to one width with their decimal points below each other. Entries without digits (an empty
/// cell, "-") end where the whole numbers end.
std::vector<std::string> align_points(const std::vector<std::string>& numbers);

/// A unit that several pressures are to be shown in.
struct PressureUnit {
  const char* name;
  double per_pascal;
};

/// mPa where the largest of them [Pa] is below 0.1 Pa, else Pa.
PressureUnit pressure_unit(double largest);

/// What is left of a balance that should close, as a share [-]: "closed" below what the solver leaves (1e-9),
/// else "open by 3e-05".
std::string closure_text(double rest);

/// A pressure [Pa] with unit: Pa, or mPa below 0.1 Pa. Signed.
std::string pressure_text(double pascal);

/// A temperature [K] in degrees Celsius with unit, one decimal.
std::string temperature_text(double kelvin);
/// The number alone.
std::string celsius(double kelvin);

/// The number in whole degrees, where more would say more than is meant.
std::string whole_celsius(double kelvin);

/// A volume flow [m3/s] in L/s with unit, or mL/s below 0.1 L/s.
std::string flow_text(double cubic_metres_per_second);

/// A share [-] in percent with unit.
std::string percent_text(double share);

/// An angle [rad] in degrees with the degree sign.
std::string degrees_text(double radians);

/// Radians in degrees, freed of the last bits of round-off, so that 15 degrees are 15 and
/// not 15.000000000000002.
double clean_degrees(double radians);

}  // namespace tuft::output
