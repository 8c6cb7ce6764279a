// Where the uncertainty of a claim comes from: which values, and the device, the room, or the model.
#pragma once

#include <array>
#include <vector>

#include "solver/experiment/verdicts.hpp"
#include "solver/study/ensemble.hpp"
#include "solver/uncertainty/shares.hpp"

namespace tuft::experiment {

/// A value, or several that are correlated, and what it contributes.
struct ValueShare {
  std::vector<int> inputs;                      ///< numbers of the ensemble's inputs, rising
  uncertainty::Share share;                     ///< of all of them [-]
  std::array<double, study::kInputKinds> of{};  ///< what of it belongs to each study::InputKind
};

/// Shares of the variance of a claim's margin.
struct UncertaintyShares {
  int claim = 0;        ///< index into Case::claims
  bool varies = false;  ///< false: the margin is the same in every sample, and there are no shares
  std::array<uncertainty::Share, study::kInputKinds> of{};  ///< by study::InputKind [-]
  std::vector<ValueShare> values;  ///< those that stand out of the noise of the sample, by falling share
};

/// One entry a question, from the sample that is there (docs/theory.md, D10, D25): first-order shares. Inputs
/// that are correlated count as one. `values` are those of 1 % or more whose 95 % interval lies above 0, at
/// most 12. The share of a kind is never below the sum of what `values` has of it: it is that sum, and what
/// all others of the kind have together, if that is more than nothing. What inputs do only together is in no
/// share. Empty where the sample has too few solved points to tell.
std::vector<UncertaintyShares> uncertainty_shares(const geometry::Case& content, const Questions& questions,
                                                  const study::Sampler& sampler,
                                                  const study::Ensemble& sample);

}  // namespace tuft::experiment
