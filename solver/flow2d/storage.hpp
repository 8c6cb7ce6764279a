// What the layers store, and how fast that grows in a time step.
#pragma once

#include <vector>

#include "solver/flow2d/residual.hpp"

namespace tuft::flow2d {

/// d/dt at the new time is (now c0 + one step back c1 + two steps back c2)/step.
struct TimeWeights {
  double c0 = 1.0, c1 = -1.0, c2 = 0.0;
  double step = 1.0;  ///< [s], > 0
};

/// Backward differences of second order for steps that may vary, `last` being the step before; of first order
/// where there was none (last = 0).
TimeWeights backward_differences(double step, double last);

/// What one layer holds in a state (docs/field.md, F29): momentum rho V u of faces [kg m/s], mass rho V of
/// cells [kg], heat rho V cp (T - T_ref) of cells [J]. Solids hold nothing.
State content_of(Residual* residual, const State& state);

/// How content changes in one step, taken off what is left over in the layers' balances.
class Storage {
 public:
  /// `now` and `before`: contents of all layers one and two steps back.
  Storage(const TimeWeights& weights, std::vector<State> now, std::vector<State> before)
      : weights_(weights), now_(std::move(now)), before_(std::move(before)) {}

  const TimeWeights& weights() const { return weights_; }
  bool at_start() const { return weights_.c2 == 0.0; }  ///< nothing is known of the time before

  /// *left_over -= d content/dt of layer `l` at `state`, which `residual` was evaluated at last.
  void subtract(std::size_t l, const Residual& residual, const State& state, State* imbalance) const;

  /// d/dw of that rate on the diagonal, as the unknowns' matrix has it: c0/step times what a unit of a
  /// velocity or temperature holds; 0 for a pressure.
  double slope(const Residual& residual, const State& state, int kind, int i, int j) const;

 private:
  TimeWeights weights_;
  std::vector<State> now_, before_;
};

}  // namespace tuft::flow2d
