// Seeded random networks of the kind a small chassis gives, and nastier.
#pragma once

#include <cstdint>

#include "solver/network/graph.hpp"

namespace tuft::testing {

/// A connected network of 1..6 zones, openings in any attitude, fans with and without a hump, some stopped,
/// some blowing against each other; powers from none to some tens of watts. The same seed gives the same
/// network.
network::Graph random_network(std::uint64_t seed);

/// The same with 1..6 bodies: chips, pipes, fins in openings, skin, air that comes back, fans that follow a
/// temperature.
network::Graph random_heated_network(std::uint64_t seed);

}  // namespace tuft::testing
