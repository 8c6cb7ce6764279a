// Units: what a unit text measures and how it converts to SI. Rests on UDUNITS-2.
#pragma once

#include <map>
#include <string>
#include <string_view>

namespace tuft::casefile {

/// What a quantity of a case file measures. Its SI unit is in `dimension_info`.
enum class Dimension {
  number,          ///< a pure number, no unit
  share,           ///< part of a whole; % or a bare number 0..1
  angle,           ///< [rad]
  rotation,        ///< turns per time [rev/s]
  length,          ///< [m]
  area,            ///< [m2]
  velocity,        ///< [m/s]
  volume_flow,     ///< [m3/s]
  pressure,        ///< [Pa]
  temperature,     ///< absolute [K]
  power,           ///< [W]
  density,         ///< [kg/m3]
  conductance,     ///< heat [W/K]
  permeability,    ///< Darcy [m2]
  inverse_length,  ///< [1/m]
  difference,      ///< of temperatures [K]
  resistance,      ///< heat [K/W]
  capacity,        ///< heat [J/K]
  areal_capacity,  ///< heat per area of a sheet [J/(m2 K)]
  film,            ///< heat transfer coefficient [W/(m2 K)]
  conductivity,    ///< heat [W/(m K)]
  time,            ///< [s]
  other            ///< something a case file has no key for
};

/// How a dimension is spoken of.
struct DimensionInfo {
  Dimension dimension;
  const char* article;   ///< "a volume flow"
  const char* examples;  ///< "L/s, m3/h, cfm"
  const char* si;        ///< "m3/s"
};
const DimensionInfo& dimension_info(Dimension dimension);

/// A unit that was understood: SI value = factor * number + offset.
struct Unit {
  Dimension dimension = Dimension::other;
  std::string what;  ///< with article, as in "'20 Pa' is a pressure"
  double factor = 1.0;
  double offset = 0.0;  ///< temperatures only
  bool known = false;   ///< false: no such unit
};

/// Understands a unit text; `known` false when there is no such unit. Never throws for any text.
Unit find_unit(std::string_view text);

/// The same by the unit database alone, which does not know that a share is no angle.
///
/// The database is loaded at the first call of the process (about 10 ms) and kept; UDUNITS-2 is not
/// thread-safe, so calls take turns. Throws std::runtime_error only if the database itself can't be read.
Unit find_unit_in_database(std::string_view text);

/// What the database was asked for so far, as it answered: a page that reads case files by itself, and has no
/// database, is given these. Throws as above. @thread_safe
std::map<std::string, Unit> units_understood();

}  // namespace tuft::casefile
