// What the tests of courses in time share.
#pragma once

#include <string>

#include "solver/network/transient.hpp"
#include "solver/network/warm_up.hpp"

namespace tuft::testing {

/// A setup of bodies alone, without air: capacities [J/K], powers [W], in a room at 300 K, starting there.
network::Setup lumps(const std::vector<double>& capacity, const std::vector<double>& power);

/// Joins two temperatures, or one and the room (network::kOutside), by a conductance [W/K].
void join(network::Setup& setup, int a, int b, double conductance);

/// The history's track of that name; fails the test when there is none.
const std::vector<double>& track(const std::vector<network::Track>& tracks, const std::string& name);

/// Value of a track at a time, straight between two times of the history.
double value_at(const network::History& history, const std::vector<double>& values, double time);

/// "throttled@12.3 fails@100.0": the kinds and subjects of the events in order, for messages.
std::string told(const network::TransientResult& transient);

}  // namespace tuft::testing
