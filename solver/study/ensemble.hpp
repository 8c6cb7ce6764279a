// A device looked at many times, each time with other values of what is not known exactly.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "solver/study/sampler.hpp"
#include "solver/uncertainty/probability.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::study {

/// A sample of a case's inputs, and what follows from each of its points in each condition.
struct Ensemble {
  std::vector<Input> inputs;         ///< one a column of `points` and `values`
  std::vector<int> conditions;       ///< indices into Case::conditions, in the order of the views
  uncertainty::SampleMatrix points;  ///< independent uniform coordinates in (0, 1), one row a sample
  uncertainty::SampleMatrix values;  ///< the inputs they stand for [SI], correlation applied
  std::vector<std::vector<study::StateSummary>> views;  ///< [sample][place in `conditions`]
  std::vector<double> weights;                   ///< 1; 0 for a sample with a condition that has no solution
  int replicates = 0;                            ///< sample k belongs to replicate k mod replicates
  std::vector<Failure> failures;                 ///< by sample, then condition
  std::vector<uncertainty::Probability> claims;  ///< of what `Options::truths` asks, in its order
  uncertainty::Progress progress = uncertainty::Progress::go_on;  ///< why it ended: settled or spent
};

/// Truth of each claim for one sample: 1, 0, or a share between; always as many. Called for samples that
/// solved in every condition, on any thread, in any order; it must not throw.
using Truths = std::function<std::vector<double>(const std::vector<study::StateSummary>& views)>;

struct Options {
  std::uint64_t seed = 1;
  uncertainty::Budget budget;
  uncertainty::VerdictRule rule;
  Truths truths;  ///< none: one round
};

/// Samples a case: rounds of scrambled Sobol' sequences (uncertainty::Replicates) until every verdict is
/// settled or the budget is used. The same seed gives the same bytes for any number of threads and of
/// processes. Throws std::invalid_argument if the budget is not valid, or there are more inputs than can be
/// sampled.
Ensemble run(const Sampler& sampler, const Options& options, const study::Ranks& ranks = study::Alone());

}  // namespace tuft::study
