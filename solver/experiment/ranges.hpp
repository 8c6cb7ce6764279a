// How sure what each vent does is, in each condition.
#pragma once

#include <vector>

#include "solver/experiment/verdicts.hpp"

namespace tuft::belief {

/// What the samples say of one vent.
struct VentRange {
  RoleOdds odds;
  double net_median = 0.0;  ///< of the net flow [kg/s], + in
  doubt::Interval net;      ///< central kShownLevel of it [kg/s]
};

/// The same of all vents, leaks among them, in one condition.
struct ConditionRanges {
  int condition = 0;             ///< index into Case::conditions
  double unsolved = 0.0;         ///< share of the samples that have no solution here; they decide nothing
  std::vector<VentRange> vents;  ///< in the order of Device::vents; empty where no sample has a solution
};

/// One entry a condition of the questions, in their order.
std::vector<ConditionRanges> ranges(const geometry::Case& content, const Questions& questions,
                                    const Sample& sample);

}  // namespace tuft::belief
