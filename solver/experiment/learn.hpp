// What is believed after something was measured.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/experiment/contradiction.hpp"
#include "solver/experiment/observable.hpp"
#include "solver/experiment/surprise.hpp"
#include "solver/experiment/ties.hpp"
#include "solver/experiment/verdicts.hpp"
#include "solver/uncertainty/summary.hpp"
#include "solver/uncertainty/weights.hpp"
#include "solver/study/ensemble.hpp"

namespace tuft::belief {

/// One thing that was measured.
struct Observation {
  Measurement what;
  double reading = 0.0;  ///< as the error model reads it: a number [SI], or -1 in, 0 still, 1 out
};

struct LearnOptions {
  int per_replicate = 128;  ///< points a replicate in every round; a power of two
  int replicates = 16;
  int most_rounds = 8;    ///< refined rounds at most
  double wanted = 400.0;  ///< effective points at which no further round is run (judgement)
  double least = 100.0;   ///< below this the result is called thin (judgement)
  double fewest = 30.0;   ///< below this nothing that follows is to be relied on (judgement)
  std::uint64_t seed = 1;
};

/// What is known of one input, before and after.
struct InputBelief {
  int input = 0;  ///< number in `Learned::inputs`
  doubt::Moments before, after;
  doubt::Interval before_interval, after_interval;  ///< central 95 %
  double shift = 0.0;                               ///< of the mean, in standard deviations of before
  double narrowed = 1.0;                            ///< standard deviation after over before
  bool moved = false;                               ///< stands out of the noise of the sample
};

/// What was learned.
struct Learned {
  std::vector<ensemble::Input> inputs;
  std::vector<ClaimBelief> before, after;
  std::vector<InputBelief> beliefs;  ///< one an input
  std::vector<Tie> ties;             ///< inputs that hang together after, by 0.5 or more
  std::vector<Surprise> surprises;   ///< one an observation
  double effective_at_once = 0.0;    ///< effective points of the first sample, before any refined round
  double effective = 0.0;            ///< of the last
  int rounds = 0;                    ///< refined rounds
  std::size_t samples = 0;           ///< solved in all
  bool thin = false;                 ///< fewer effective points than wanted at least: the numbers are rough
  bool reliable = true;  ///< false: so few effective points that what is told after is no posterior
  std::vector<Contradiction> contradictions;  ///< what the readings can't be true together with
};

/// Bayes (docs/theory.md, D11 to D14, D22): the sample is reweighted by every observation's likelihood; where
/// few effective points are left, refined rounds follow, the likelihood brought in by steps. `observables[j]`
/// belongs to `observations[j]` and is possible; their conditions are among the questions'. Throws
/// std::invalid_argument if a reading is impossible for its instrument.
Learned learn(const geometry::Case& content, const Questions& questions, const ensemble::Sampler& sampler,
              const std::vector<Observation>& observations, const std::vector<Observable>& observables,
              const LearnOptions& options = {});

}  // namespace tuft::belief
