// What the claims depend on: Sobol' indices of their margins.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/experiment/uncertainty_shares.hpp"
#include "solver/experiment/verdicts.hpp"
#include "solver/study/ensemble.hpp"
#include "solver/uncertainty/indices.hpp"

namespace tuft::experiment {

/// How much is spent on the indices. The numbers are judgements.
struct HangsOnOptions {
  int base_points = 256;  ///< of the plan; a power of two
  int most_groups = 20;   ///< inputs looked at one by one; what the sample says matters least is one group
  std::uint64_t seed = 1;
};

/// The influence of one input, or of several that are correlated, or of all the rest.
struct Influence {
  std::vector<int> inputs;  ///< numbers of the ensemble's inputs, rising
  bool rest = false;        ///< everything that was not looked at one by one
  uncertainty::Index index;
};

/// What one claim depends on.
struct Sensitivity {
  int claim = 0;        ///< index into Case::claims
  bool varies = false;  ///< false: the margin is the same whatever the inputs, and there is no list
  std::vector<Influence> influences;  ///< by falling share_of(), the rest last
};

struct SensitivityResult {
  std::vector<Sensitivity> claims;  ///< one a question
  std::size_t runs = 0;             ///< samples solved for it
  std::size_t unsolved = 0;         ///< of these, without a solution; their margin was set to the mean
  bool planned = true;              ///< false: the sample alone tells; first-order shares, and no total ones
  int held = 0;  ///< inputs held at their median, because a plan has no room for more than 240
};

/// First-order and total indices of every claim's margin (docs/theory.md, D9, D20). Inputs that are
/// correlated are one group. The sample that is there screens (D10): the inputs that matter most to any claim
/// are looked at one by one, the others together; their total index tells what the screening left out. Empty
/// if the case has no uncertain input, the sample has fewer than 40 solved points, or more than a tenth of
/// the plan's runs have no solution.
SensitivityResult sensitivity(const geometry::Case& content, const Questions& questions,
                              const study::Sampler& sampler, const study::Ensemble& sample,
                              const HangsOnOptions& options = {}, const study::Ranks& ranks = study::Alone());

/// The share of a claim's uncertainty that an input is named and ranked by: the total index, or the
/// first-order one where the sample alone tells.
double share_of(const SensitivityResult& result, const Influence& influence);

/// The same from the sample that is there, without a run more: the values of uncertainty_shares() with their
/// first-order shares; `planned` is false.
SensitivityResult sensitivity_by_sample(const std::vector<UncertaintyShares>& shares);

}  // namespace tuft::experiment
