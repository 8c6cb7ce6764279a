// Lets a disturbed device come to rest in its own time.
#pragma once

#include <optional>

#include "solver/network/knobs.hpp"

namespace tuft::heat {

/// Integrates the transient (B1) from a state until it is steady, held temperatures held: implicit Euler
/// steps of one linear solve each, none of which moves any flow or temperature by more than a few per cent of
/// its scale. Unlike a solve for the steady state it does not end in an unstable one it merely comes by. The
/// way there is followed roughly, where it ends is exact (to 1e-10 of the scales). Capacities must be > 0.
/// @return false when it is not at rest after 4000 steps; `x` is the state reached either way.
bool relax(const Model& model, const Held& held, network::State& x);

/// Where a device comes to rest from rest (everything cold and still) in its own time, for a cold solve that
/// stalls: just past a fold the state it follows has vanished and the next one is far (docs/theory.md, D17).
/// Near a steady state; controls open. Nothing where it does not come to rest.
std::optional<network::State> rest_from_cold(const Model& model);

}  // namespace tuft::heat
