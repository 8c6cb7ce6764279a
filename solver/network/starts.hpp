// Where to start from, so that no steady state of a device is overlooked.
#pragma once

#include <string>
#include <vector>

#include "solver/network/knobs.hpp"

namespace tuft::heat {

/// A state to start a solve from, and what somebody would have to do to get there.
struct Start {
  std::string how;
  network::State state;
};

/// Starts around the state a cold start has reached, `cold`, in a model with its limits applied: everything
/// hot; each loop of the network (one for every element that closes a ring of others) with its flow driven
/// either way until it is warm. Flows that go the cold state's way already are left out.
std::vector<Start> starts_around(const Model& model, const network::State& cold);

}  // namespace tuft::heat
