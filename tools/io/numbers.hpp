// Numbers as a person wants to read them: few digits, familiar units, no surer than they are.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/units.hpp"
#include "solver/uncertainty/probability.hpp"

namespace tuft::io {

/// The value with so many significant digits, in plain decimal writing, at most `most_decimals` after the
/// point. What rounds to nothing is "0", never "-0".
std::string significant(double value, int digits, int most_decimals = 6);

/// The same with its sign in front, also when positive.
std::string signed_significant(double value, int digits, int most_decimals = 6);

/// Numbers brought to one width with their decimal points below each other. Entries without digits (an empty
/// cell, "-") end where the whole numbers end.
std::vector<std::string> align_points(const std::vector<std::string>& numbers);

using geometry::UnitSystem;

/// What is left of a balance that should close, as a share [-]: "closed" below what the solver leaves (1e-9),
/// else "open by 3e-05".
std::string closure_text(double rest);

/// What one decimal of a temperature cannot show [K].
constexpr double kSameWarmth = 0.05;

// Quantities [SI] in the unit of a system, each with its unit (_text) or the number alone.

/// A pressure [Pa], signed.
std::string pressure_number(double pascal, UnitSystem units);
std::string pressure_text(double pascal, UnitSystem units);

/// A temperature [K], one decimal.
std::string temperature_number(double kelvin, UnitSystem units);
std::string temperature_text(double kelvin, UnitSystem units);

/// The number in whole degrees, where more would say more than is meant.
std::string whole_temperature(double kelvin, UnitSystem units);

/// A difference of temperatures [K] with so many digits; without the sign.
std::string difference_text(double kelvin, UnitSystem units, int digits = 2, int most_decimals = 1);

/// A volume flow [m3/s].
std::string flow_number(double cubic_metres_per_second, UnitSystem units);
std::string flow_text(double cubic_metres_per_second, UnitSystem units);

/// A speed of air [m/s] with so many digits.
std::string speed_number(double metres_per_second, UnitSystem units, int digits = 3);
std::string speed_text(double metres_per_second, UnitSystem units, int digits = 3);

/// A length [m] with at most so many digits, without zeros at its end: a place, a cell.
std::string length_number(double metres, UnitSystem units, int digits = 4);
std::string length_text(double metres, UnitSystem units, int digits = 4);

/// A power [W] with unit.
std::string watts(double power);

/// How long something is touched [s]: "under 1 s", "5 s", "2 min", "8 h".
std::string duration_text(double seconds);

/// A time [s] that went by: "45 s", "14 min 10 s", "1 h 20 min".
std::string elapsed_text(double seconds);

/// A share [-] in percent with unit.
std::string percent_text(double share);

/// An angle [rad] in degrees with the degree sign.
std::string degrees_text(double radians);

/// Radians in degrees, freed of the last bits of round-off, so that 15 degrees are 15 and
/// not 15.000000000000002.
double clean_degrees(double radians);

/// A probability in whole percent, from 1 to 99, rounded towards one half.
int whole_percent(double probability);

/// The same as text: "43 %". It is rounded towards one half, so that it never claims more than
/// was found and never stands on the other side of the line a verdict is drawn at. Never 0 or 100: "at least
/// 99 %", "at most 1 %".
std::string probability_text(double probability);

/// The same of what samples told. Where all or none of them say so, it is the inner end of the interval that
/// is known: "at least 99 %". Where nothing was uncertain, so that there was one device alone: "sure as
/// described", "never as described".
std::string probability_text(const uncertainty::Probability& probability);

/// The 99 % interval: "41 to 46 %", "at least 97 %", "at most 3 %".
std::string interval_text(const uncertainty::Interval& interval);

/// Both, for a cell of a table: "43 % (41 to 46 %)"; where they are the same they stand once.
std::string probability_with_interval(const uncertainty::Probability& probability);

}  // namespace tuft::io
