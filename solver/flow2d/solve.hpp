// The steady state of a problem, from whatever start, with an honest account of how it went.
#pragma once

#include <string>
#include <vector>

#include "solver/flow2d/newton.hpp"

namespace tuft::field {

struct SteadyOptions {
  NewtonOptions newton;      ///< of the grid asked for; its observer sees the coarser grids too
  bool coarse_start = true;  ///< solve on coarser grids first and start from what they give
  int coarsest = 12;         ///< cells a side at which no coarser grid is made
  bool first_order_attempt =
      true;               ///< when Newton's steps fail: solve with upwind convection, start from that
  int march_steps = 400;  ///< time-accurate steps when Newton's steps fail; 0: none
  double march_courant = 0.4;
};

enum class SteadyEnd {
  converged,       ///< residual, mass and energy are within their tolerances
  unsteady,        ///< the time-accurate run goes on changing: there may be no steady state
  not_converged,   ///< neither converged nor shown to be unsteady
  invalid_problem  ///< the problem breaks a rule
};

struct SteadySummary {
  SteadyEnd end = SteadyEnd::not_converged;
  std::string message = "the solver was not called";
  NewtonSummary newton;  ///< of the grid asked for, last attempt
  /// The state is a converged solution with upwind convection: the scheme asked for did not converge from
  /// there.
  bool first_order_state = false;
  int coarse_grids = 0;  ///< solved for the start
  int marched_steps = 0;
  double fluctuation =
      0.0;  ///< of kinetic energy over the second half of the time-accurate run, over its mean
  bool converged() const { return end == SteadyEnd::converged; }
};

/// Finds a steady state. *state is the start when `coarse_start` is off, and holds the result in any case;
/// when the summary says that it did not converge, it is the best there is (see first_order_state) and no
/// solution.
SteadySummary solve_steady(const Problem& problem, const SteadyOptions& options, State* state);

}  // namespace tuft::field
