// How sure a run is, as plain numbers.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "solver/experiment/hangs_on.hpp"
#include "solver/experiment/measure.hpp"
#include "solver/experiment/verdicts.hpp"

namespace tuft::output {

/// What a sample of the case says.
struct Doubt {
  std::vector<ensemble::Input> inputs;  ///< sampled
  std::size_t samples = 0;              ///< solved, or not
  int replicates = 0;
  std::uint64_t seed = 1;
  bool settled = false;  ///< more samples would hardly turn a verdict; else the budget was used
  std::vector<belief::ClaimBelief> claims;
  belief::Questions questions;
  std::vector<belief::ConditionRanges> conditions;  ///< vents' roles and flows; empty if not asked for
  belief::HangsOnResult hangs_on;                   ///< by the sample itself where not asked for
  std::vector<belief::Suggestion> suggestions;      ///< by falling worth; empty if not asked for
  std::vector<int> model_conditions;  ///< that carry doubt of the model; rising indices into Case::conditions
  std::string model;                  ///< a sentence on the doubt of the model itself; empty: none was added
};

}  // namespace tuft::output
