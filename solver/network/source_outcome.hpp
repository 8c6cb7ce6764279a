// What a source ends with when its limits are minded.
#pragma once

namespace tuft::heat {

/// What a source's limits did to it.
enum class SourceState {
  full,       ///< takes the power the load asks for
  throttled,  ///< held at its limit; takes less
  starved,    ///< at its least power and still above its throttling temperature
  shut_down   ///< above its shutdown temperature: its power is off
};

struct SourceOutcome {
  SourceState state = SourceState::full;
  double power = 0.0;  ///< [W] it ends with
};

}  // namespace tuft::heat
