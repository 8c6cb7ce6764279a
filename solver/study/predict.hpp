// From a case to results: every condition, every sweep, comparisons and claims.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"

namespace tuft::study {

/// How hard to look for other steady states of a condition.
enum class StateSearch {
  none,    ///< not at all: the state a cold start reaches, for many conditions that are only compared
  starts,  ///< from cold, hot, flows driven either way, fans late: some milliseconds
  walks  ///< and walking in tilt and fan speed both ways to the condition, following every state to its ends
};

/// Solves one condition of a case with the nominal values, and looks for other steady states.
/// Never throws for a well-read case: a condition without a solution comes back with `report.converged`
/// false, the reason, and no flows.
ConditionResult predict(const geometry::Case& content, int condition,
                        StateSearch search = StateSearch::starts);

/// Solves the conditions named by index, in that order, on all cores.
std::vector<ConditionResult> predict_these(const geometry::Case& content, const std::vector<int>& conditions,
                                           StateSearch search = StateSearch::starts);

/// Solves one condition in another pose than its own, from rest; other steady states are not looked for.
ConditionResult predict_in_pose(const geometry::Case& content, int condition, const geometry::Pose& pose);

/// Solves a sweep of the pose angle; every point as predict_in_pose() does.
SweepResult predict_sweep(const geometry::Case& content, int sweep);

/// One vent looked at in two conditions.
struct VentChange {
  int vent = 0;
  geometry::Role from = geometry::Role::idle, to = geometry::Role::idle;
  bool shut_from = false, shut_to = false;      ///< no way through at all there
  double inflow_from = 0.0, inflow_to = 0.0;    ///< gross [kg/s]
  double outflow_from = 0.0, outflow_to = 0.0;  ///< gross [kg/s]
  bool role_changes = false;
  bool size_changes =
      false;            ///< larger gross flow changes by a fifth or more, and the vent is not idle in both
  std::string because;  ///< one sentence: which head changed, in Pa
};

/// Which vents change role or size between two solved conditions, and why. One entry a vent, leaks left out.
std::vector<VentChange> compare(const geometry::Case& content, const ConditionResult& from,
                                const ConditionResult& to);

/// The same between two devices: a condition of each, vents matched by their names. One entry a vent that both
/// have, in the order of the first; `vent` is its index there.
std::vector<VentChange> compare(const geometry::Case& first, const ConditionResult& from,
                                const geometry::Case& second, const ConditionResult& to);

/// Judges one claim from solved conditions (`results[i]` is condition i).
ClaimResult judge(const geometry::Case& content, int claim, const std::vector<ConditionResult>& results);

/// A walk through one vent's pressure balance in words, for one solved condition; several sentences.
std::string explain(const geometry::Case& content, int vent, const ConditionResult& result);

}  // namespace tuft::study
