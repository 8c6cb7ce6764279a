// What was learned, in a form that a case file can hold: a spread for each input, and devices where these do
// not say enough.
#pragma once

#include <vector>

#include "solver/experiment/learn.hpp"

namespace tuft::experiment {

/// A spread as a case file writes it.
struct LearnedSpread {
  geometry::Value value;      ///< [SI]
  std::vector<double> steps;  ///< of geometry::SpreadKind::steps
};

/// The simplest spread that has the distribution of these values [SI], equally likely each: normal, then the
/// form of the prior over another range, then steps of equal probability (docs/theory.md, D26). A form will
/// do whose cumulative probability is nowhere off by more than 0.03 (judgement: what so many values tell).
LearnedSpread learned_spread(const study::Input& input, std::vector<double> values);

/// In which part of its distribution (of uncertainty::JointPlaces::parts) each value lies.
std::vector<int> places_of(const uncertainty::Distribution& distribution, const std::vector<double>& values,
                           int parts);

/// The claims of a case that was written from what was learned, from as many samples as learning takes a
/// round; `options` are those of learn().
std::vector<ClaimProbability> probabilities_of(const geometry::Case& content, const Questions& questions,
                                               const LearnOptions& options);

/// True if `found` has every claim's verdict as `learned` has it, where that is settled, and its probability
/// within half of what both state as their errors: a finer look at the same case then stays within all of it.
bool reproduces(const std::vector<ClaimProbability>& learned, const std::vector<ClaimProbability>& found);

}  // namespace tuft::experiment
