// Where the uncertainty of a claim comes from: the device, the room, or the model.
#pragma once

#include <array>
#include <vector>

#include "solver/experiment/verdicts.hpp"
#include "solver/study/ensemble.hpp"
#include "solver/uncertainty/indices.hpp"

namespace tuft::experiment {

/// Shares of the variance of a claim's margin.
struct UncertaintyShares {
  int claim = 0;        ///< index into Case::claims
  bool varies = false;  ///< false: the margin is the same in every sample, and there are no shares
  std::array<uncertainty::GivenDataIndex, study::kInputKinds> of{};  ///< by study::InputKind [-]
};

/// One entry a question, from the sample that is there (docs/theory.md, D25): first-order shares of the three
/// groups of inputs. What inputs of several groups, or several of one, do only together is in none of them.
/// Empty where the sample has too few solved points to tell.
std::vector<UncertaintyShares> uncertainty_shares(const geometry::Case& content, const Questions& questions,
                                                  const study::Ensemble& sample);

}  // namespace tuft::experiment
