// Follows a network in time.
#pragma once

#include "solver/network/transient_history.hpp"
#include "solver/network/transient_setup.hpp"

namespace tuft::transient {

/// How closely, how long, and when it counts as steady.
struct Options {
  double relative = 1e-6;       ///< error a step may make, of what a temperature lies over the room [-]
  double absolute = 1e-6;       ///< ... and besides [K]
  double longest_step = 20.0;   ///< between two times of the history [s], > 0
  double until = 4.0 * 3600.0;  ///< ends there if not steady before [s], > 0
  double steady_within = 5e-5;  ///< ends when every temperature is that near its steady value [K]; 0: never
  int most_events = 2000;       ///< a control that hunts faster than the clock ends it
};

/// Where a course ended, to go on from or to compare with.
struct End {
  network::Graph graph;  ///< with the powers asked for and the fans in the mode they ended in
  network::State state;
};

/// Follows a network from a start through its changes until it is steady, by backward differences of variable
/// order with the flow settled in every rate. Events are found as roots, and integration begins anew there.
/// Never throws for what nature does: a course that cannot go on ends `failed` with the time and reason.
/// Throws std::invalid_argument for a setup that does not hold together (capacities, sizes, tables, times).
Course follow(const Setup& setup, const Options& options = {}, End* end = nullptr);

}  // namespace tuft::transient
