// A plane's flow in time, averaged over a window that is long enough to trust.
#pragma once

#include "solver/flow2d/section_collect.hpp"

namespace tuft::section {

struct RunOptions {
  int max_steps = 6000;
  double courant = 0.4;
  double body = 0.1;  ///< what the fastest air has to cross for one passage [m]
  /// The window is long enough when no share drawn again may still move by more than this [-], and its halves
  /// agree to twice of it in the mean kinetic energy over its mean.
  double tolerance = 0.005;
};

struct Run {
  bool finite = true;        ///< every step gave numbers
  bool long_enough = false;  ///< by the tolerance
  int steps = 0;
  int passages = 0;          ///< of the fastest air across the body within the window
  double begins = 0.0;       ///< of the window, after the start of the run [s]
  double span = 0.0;         ///< of the window [s]
  double fluctuation = 0.0;  ///< highest less lowest kinetic energy in the window over its mean [-]
  Fields mean;
  Tracers tracers;  ///< means of the shares
  Drawn drawn;      ///< means over the window
  /// How far the share of outlet k in what vent v draws may still move [-], by [k][v] (F33).
  std::vector<std::vector<double>> by_start;
};

/// Marches from `start` (F33). The run is cut into passages: times in which the fastest air crosses the body.
/// After every third of them the first third is left to settle, and the two others are the window. The run
/// ends when the window is long enough, or after `max_steps`; fewer than three passages are no mean and leave
/// `passages` 0. What a share may still move: half the difference d of the window's halves, and as much as
/// goes on at this rate while the outlets' air is renewed once; at least d.
Run run_in_time(const Model& model, const field::State& start, const RunOptions& options);

}  // namespace tuft::section
