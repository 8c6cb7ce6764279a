// What a device ends in when it is switched on cold.
#pragma once

#include "geometry/device/condition.hpp"
#include "solver/network/knobs.hpp"

namespace tuft::heat {

/// Solves a model from cold, controls closed; its powers change as for solve_steady. A solve that stalls
/// (just past a fold the state it follows has vanished, and the next one is far) is replaced by one from
/// where the device's own course in time comes to rest (docs/theory.md, D17). Where that does not help,
/// `summary` is that of the solve that stalled.
Steady solve_from_cold(const geometry::Case& content, Model& model);

}  // namespace tuft::heat
