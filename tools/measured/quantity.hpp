// The quantity that was measured, as a solved condition or a warm-up has it.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "tools/measured/values.hpp"

namespace tuft::measured {

/// A quantity, read: "flow-in", "flow-out", "temperature-out", "neutral-level" of a vent, "air" of a zone,
/// "skin" of a patch; the last two also with a time, "air-at-600s", from a warm-up from cold.
struct Quantity {
  enum class Kind { flow_in, flow_out, temperature_out, neutral_level, air, skin };
  Kind kind = Kind::air;
  double time = 0.0;  ///< [s]; 0: at rest
  int condition = 0;  ///< index into Case::conditions
  int of = 0;         ///< index of vent, zone or patch
  int against = -1;   ///< index of the vent or condition it is a share of; -1: of nothing
  bool against_condition = false;
};

/// Throws std::runtime_error where a name is unknown or kind and unit do not go together: flows are in g/s,
/// temperatures in K above the room, levels and shares in %.
Quantity quantity_of(const geometry::Case& content, const Value& value);

/// Its value for one case, in the unit of its row; NaN where a condition has no solution.
double asked(const geometry::Case& content, const Quantity& quantity,
             const std::vector<study::ConditionResult>& results);

}  // namespace tuft::measured
