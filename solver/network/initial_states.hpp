// Where a search for steady states starts: from cold, in the device's own time, hot, and with loops driven.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/network/continuation_parameters.hpp"

namespace tuft::network {

/// Integrates the transient (B1) from a state until it is steady, held temperatures held: implicit Euler
/// steps of one linear solve each, none of which moves any flow or temperature by more than a few per cent of
/// its scale. Unlike a solve for the steady state it does not end in an unstable one it merely comes by. The
/// way there is followed roughly, where it ends is exact (to 1e-10 of the scales). Capacities must be > 0.
/// @return false when it is not at rest after 4000 steps; `x` is the state reached either way.
bool relax(const Model& model, const Held& held, State& x);

/// Where a device comes to rest from rest (everything cold and still) in its own time, for a cold solve that
/// stalls: just past a fold the state it follows has vanished and the next one is far (docs/theory.md, D17).
/// Near a steady state; controls open. Nothing where it does not come to rest.
std::optional<State> rest_from_cold(const Model& model);

// What a device ends in when it is switched on cold.

/// Solves a model from cold, controls closed; its powers change as for solve_steady. A solve that stalls
/// (just past a fold the state it follows has vanished, and the next one is far) is replaced by one from
/// where the device's own transient comes to rest (docs/theory.md, D17). Where that does not help,
/// `summary` is that of the solve that stalled.
Steady solve_from_cold(const geometry::Case& content, Model& model);

// Where to start from, so that no steady state of a device is overlooked.

/// A state to start a solve from, and what somebody would have to do to get there.
struct Start {
  std::string how;
  State state;
};

/// All of them, and what bounds the search: of so many loops so many were driven.
struct Starts {
  std::vector<Start> starts;
  int loops = 0, driven = 0;
};

/// Starts around the state a cold start has reached, `cold`, in a model with its limits applied: everything
/// hot; each loop of the network (one for every element that closes a ring of others) with its flow driven
/// either way until it is warm, at most 24 loops, of 500 or more 4. Flows that go the cold state's way
/// already are left out.
Starts starts_around(const Model& model, const State& cold);

}  // namespace tuft::network
