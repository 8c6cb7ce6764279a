// The claims of a case as questions to a sample of it.
#pragma once

#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/view.hpp"

namespace tuft::belief {

/// Claims of a case, and the conditions they need, ready to be asked of the views of many samples.
struct Questions {
  std::vector<int> claims;      ///< indices into Case::claims
  std::vector<int> conditions;  ///< indices into Case::conditions, rising: the order of the views
  /// The claims with their conditions counted in `conditions`, so that views need not be copied about.
  std::vector<geometry::Claim> placed;
};

/// Questions for some claims; the conditions in which their evidence was seen, and `also`, are added.
/// @pre indices within the case.
Questions questions_of(const geometry::Case& content, const std::vector<int>& claims,
                       const std::vector<int>& also = {});

/// Place of a condition in the questions' order; -1: not among them.
int place_of(const Questions& questions, int condition);

/// 1 or 0 for each question. @pre all conditions are solved.
std::vector<double> truths(const geometry::Case& content, const Questions& questions,
                           const std::vector<study::View>& views);

}  // namespace tuft::belief
