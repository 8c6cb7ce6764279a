// The limits of a source of heat: when it gives way, and what it ends with. At rest and in time.
#pragma once

#include <algorithm>
#include <array>

#include "geometry/device/device.hpp"

namespace tuft::network {

/// What a source's limits did to it.
enum class SourceState {
  full,            ///< takes the power the load asks for
  throttled,       ///< held at its limit; takes less
  at_least_power,  ///< at its least power and still above its throttling temperature
  shut_down        ///< above its shutdown temperature: its power is off
};
constexpr std::array<const char*, 4> words(SourceState) {
  return {"full", "throttled", "least-power", "shut-down"};
}

struct SourceOutcome {
  SourceState state = SourceState::full;
  double power = 0.0;  ///< [W] it ends with
};

/// When a source gives way. Temperatures in K, 0 where there is no limit.
struct SourceLimits {
  double throttles_at = 0.0;
  double least_power = 0.0;  ///< [W]
  double shuts_down_at = 0.0;

  /// Least it takes where it is asked to take a power [W].
  double least(double asked) const { return std::min(least_power, asked); }
  /// Whether it can take less than that power [W].
  bool can_give_way(double asked) const { return throttles_at > 0.0 && asked > least(asked); }
  /// Whether a temperature [K] lies beyond its end by more than `slack`.
  bool ends(double temperature, double slack) const {
    return shuts_down_at > 0.0 && temperature > shuts_down_at + slack;
  }
};

inline SourceLimits limits_of(const geometry::Source& source) {
  return {*source.limits.throttles_at, *source.limits.least_power, *source.limits.shuts_down_at};
}

}  // namespace tuft::network
