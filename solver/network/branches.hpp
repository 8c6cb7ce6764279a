// All steady states of a device in one condition, as far as they can be found.
#pragma once

#include <string>
#include <vector>

#include "solver/network/continuation_parameters.hpp"
#include "solver/network/stability.hpp"

namespace tuft::network {

/// How hard to look. The starts alone cost some ten to twenty solves; each of the two ways to go on costs
/// several times as much.
struct BranchOptions {
  bool sweeps = false;  ///< walk in tilt and fan speed from elsewhere to the condition (some 70 solves)
  bool traces = false;  ///< follow every stable state round its folds, for what would tip it
  bool traces_of_several = false;  ///< the same where more than one stable state is found
};

/// Where a branch ends as one parameter turns: by so much it has to be turned to tip the device.
struct TurningPoint {
  ContinuationParameter parameter = ContinuationParameter::fan_speed;
  double value = 0.0;   ///< at which the branch ends: a factor on the condition's, or a tilt [rad]
  double change = 0.0;  ///< from the condition to there: factor - 1, or tilt [rad]; signed
};

/// "at fan speeds of 0.7 times those here", "tilted by 12 degrees".
std::string tip_words(const TurningPoint& turning_point);

/// One steady state.
struct Branch {
  Steady steady;
  Held held;  ///< temperatures that limits hold
  Stability stability;
  bool cold_start = false;              ///< reached when switched on cold
  std::vector<std::string> reached_by;  ///< what led here, in the order tried
  std::vector<std::string> turned;      ///< elements whose flow goes the other way than after a cold start
  std::vector<TurningPoint>
      turning_points;  ///< nearest end each way for each parameter traced; none: none found
  std::string words;   ///< all of it for a person
};

/// What was found; the state a cold start reaches first, then the stable, then the unstable ones.
struct Branches {
  std::vector<Branch> branches;
  Summary summary;       ///< of the cold start; without convergence nothing else was tried
  int solves = 0;        ///< steady solves spent
  int stable = 0;        ///< number of stable states
  std::string words;     ///< one sentence for a person
  std::string left_out;  ///< what a large network's search did not try, as one sentence; empty: nothing
};

/// Finds the steady states of a model family at its own setting, controls closed (limits taken from
/// `content`, which may be empty where the models have no sources): from cold, from hot, each loop's flow
/// driven either way, fans started late; and as `options` ask. States count as different where a person
/// could tell them apart: a flow differs by more than 1e-3 of the largest and by more than 1 mm/s through its
/// opening, or a temperature by more than 0.05 K (judgement). A start that ends in an unstable
/// state is followed by the transient instead, and that state is pushed out of its rest both ways. Which
/// states exist is not proven by any of this. The search is bounded: at most 24 loops are driven (4 of 500 or
/// more) and 12 fans started late, at most 12 states are kept, and networks of 150 unknowns or more are not
/// traced (`left_out` says so).
Branches find_branches(const ModelAt& model_at, const geometry::Case& content,
                       const BranchOptions& options = {});

/// The same for a case in a condition; tilted about the axis that moves its openings most.
Branches find_branches(const geometry::Case& content, const geometry::Condition& condition,
                       const BranchOptions& options = {});

}  // namespace tuft::network
