// The units that a person reads: one a quantity. Values inside are in SI units; files for programs say their
// own.
#pragma once

#include <array>

namespace tuft::geometry {

/// Which units everything for a person is in.
enum class UnitSystem {
  metric,  ///< °C, L/s, m/s, mm
  inch     ///< °F, cfm, ft/min, in
};
constexpr std::array<const char*, 2> words(UnitSystem) { return {"metric", "inch"}; }

/// A unit with its name as people write it.
struct ShownUnit {
  const char* name;
  double per_si;      ///< how many of it one SI unit is
  double zero = 0.0;  ///< what it counts from [SI]

  double of(double si) const { return (si - zero) * per_si; }
  /// Of a difference, or of what is uncertain to either side.
  double of_difference(double si) const { return si * per_si; }
};

constexpr double kInch = 0.0254, kFoot = 0.3048;  // [m], exact by definition

/// Temperatures [K]. Differences between them have the same unit.
constexpr ShownUnit temperature_unit(UnitSystem system) {
  return system == UnitSystem::inch ? ShownUnit{"°F", 1.8, 273.15 - 32.0 / 1.8}
                                    : ShownUnit{"°C", 1.0, 273.15};
}
/// Volume flows [m3/s]; cfm: cubic feet a minute.
constexpr ShownUnit flow_unit(UnitSystem system) {
  return system == UnitSystem::inch ? ShownUnit{"cfm", 60.0 / (kFoot * kFoot * kFoot)}
                                    : ShownUnit{"L/s", 1e3};
}
/// Speeds of air [m/s].
constexpr ShownUnit speed_unit(UnitSystem system) {
  return system == UnitSystem::inch ? ShownUnit{"ft/min", 60.0 / kFoot} : ShownUnit{"m/s", 1.0};
}
/// Lengths [m].
constexpr ShownUnit length_unit(UnitSystem system) {
  return system == UnitSystem::inch ? ShownUnit{"in", 1.0 / kInch} : ShownUnit{"mm", 1e3};
}
/// Pressures [Pa] are in Pa in both: warm air in so small a device puts less than a thousandth of an inch of
/// water behind a vent.
constexpr ShownUnit pressure_unit(UnitSystem) { return {"Pa", 1.0}; }

}  // namespace tuft::geometry
