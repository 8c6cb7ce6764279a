// A plane's flow in time, averaged.
#pragma once

#include "solver/section/collect.hpp"

namespace tuft::section {

struct Run {
  bool finite = true;  ///< every step gave numbers
  int steps = 0;
  double span = 0.0;         ///< averaged over [s]
  double passages = 0.0;     ///< how often the fastest air crosses the device's body in it [-]
  double fluctuation = 0.0;  ///< of the kinetic energy over `span`, over its mean [-]
  Fields mean;
};

/// Marches from `start`; the first half of the steps is left to settle, the rest averaged, weighted by their
/// length.
Run run_in_time(const Model& model, const field::State& start, int steps, double courant, double body);

}  // namespace tuft::section
