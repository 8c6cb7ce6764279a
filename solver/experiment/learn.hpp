// The posterior after something was measured, which inputs are correlated then, and readings that the case,
// or one another, can't explain.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/experiment/measure.hpp"
#include "solver/experiment/verdicts.hpp"
#include "solver/uncertainty/likelihood.hpp"
#include "solver/uncertainty/sample_matrix.hpp"
#include "solver/uncertainty/weights.hpp"

namespace tuft::experiment {

/// Two inputs that are correlated: what was measured tells their sum or ratio better than each of them.
struct PosteriorCorrelation {
  int first = 0, second = 0;  ///< numbers of inputs, first < second
  double correlation = 0.0;   ///< of their normal scores, -1 .. 1
};

/// The pairs of a weighted sample whose normal scores (of weighted ranks, so that each input's own
/// distribution does not matter) are correlated by `least` or more, the strongest first; a pair has to stand
/// out of the noise of so many effective points, too (docs/theory.md, D22). `values[sample][input]`.
std::vector<PosteriorCorrelation> correlations(const uncertainty::SampleMatrix& values,
                                               const std::vector<double>& weights, double effective,
                                               double least = 0.5);

/// An input that would have to be otherwise for an observation to make sense.
struct Suspect {
  int input = 0;
  double correlation = 0.0;  ///< of its normal score with what the instrument is shown
  bool larger = false;       ///< it would have to be larger
};

/// How an observation lies among what all the others, and the case, let one expect.
struct PredictiveCheck {
  uncertainty::PredictiveTail tail;
  double lapse = 0.0;     ///< probability that the reading is a toss-up, not what was seen; 0 for numbers
  double expected = 0.0;  ///< median of what the instrument would be shown
  uncertainty::Interval interval;  ///< central 90 % of it
  double effective = 0.0;          ///< effective points that told so
  bool conflicts_with_model = false;
  bool out_of_reach = false;      ///< no input could explain it by itself: something is missing in the case
  std::vector<Suspect> suspects;  ///< of an unexplained one, by falling strength; at most three
};

/// Two-sided tail below which an observation counts as unexplained; shared among all of them (judgement).
constexpr double kSurprising = 0.05;

/// Probability of a lapse above which it counts as unexplained however many observations there are: the
/// reading is more likely a lapse than not.
constexpr double kLikelyLapseProbability = 0.5;

/// Readings beside what the points of a sample show their instruments.
struct ReadSample {
  std::vector<double> base;                     ///< log-weights that the points have anyway
  uncertainty::SampleMatrix likelihood;         ///< log, of reading j at point i
  std::vector<std::vector<double>> shown;       ///< [reading][point]
  std::vector<uncertainty::ErrorModel> errors;  ///< one a reading
  std::vector<double> readings;                 ///< as their error models read them
};

/// Strict posterior predictive check (docs/theory.md, D13): each reading against the sample that knows the
/// others only. `scores` are the normal scores of the points' inputs, correlated as these are.
std::vector<PredictiveCheck> predictive_checks(const ReadSample& sample,
                                               const uncertainty::SampleMatrix& scores);

/// A reading and what it is set against: the description alone, or the description and one other reading.
struct Contradiction {
  int observation = 0;
  int against = -1;                ///< number of the other reading; -1: the description
  double expected = 0.0;           ///< median of what the instrument would be shown [unit of the reading]
  uncertainty::Interval interval;  ///< central 90 % of it
  double tail = 1.0;               ///< two-sided probability of a reading as far off (D13)
};

/// Every reading against the description that the points were drawn from, and those that it lets one expect
/// against each other reading alone (D23). Those against the description first, then pairs, each once; by
/// falling strength within the two.
std::vector<Contradiction> contradictions(const ReadSample& sample);

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
struct InputPosterior {
  int input = 0;  ///< number in `Learned::inputs`
  uncertainty::Moments before, after;
  uncertainty::Interval before_interval, after_interval;  ///< central 95 %
  double shift = 0.0;                                     ///< of the mean, in standard deviations of before
  double narrowed = 1.0;                                  ///< standard deviation after over before
  bool moved = false;                                     ///< stands out of the noise of the sample
};

/// What was learned.
struct Learned {
  std::vector<study::Input> inputs;
  std::vector<ClaimProbability> before, after;
  std::vector<InputPosterior> probabilities;       ///< one an input
  std::vector<PosteriorCorrelation> correlations;  ///< inputs that are correlated after, by 0.5 or more
  std::vector<PredictiveCheck> predictive_checks;  ///< one an observation
  double effective_at_once = 0.0;  ///< effective points of the first sample, before any refined round
  double effective = 0.0;          ///< of the last
  int rounds = 0;                  ///< refined rounds
  std::size_t samples = 0;         ///< solved in all
  bool thin = false;               ///< fewer effective points than wanted at least: the numbers are rough
  bool reliable = true;            ///< false: so few effective points that what is told after is no posterior
  std::vector<Contradiction> contradictions;  ///< what the readings can't be true together with
  /// Equally likely devices, drawn from the last sample: one a row, the inputs [SI] as columns.
  uncertainty::SampleMatrix devices;
};

/// How many devices `Learned` holds at most.
constexpr int kDevices = 4096;

/// Bayes (docs/theory.md, D11 to D14, D22): the sample is reweighted by every observation's likelihood; where
/// few effective points are left, refined rounds follow, the likelihood brought in by steps. `observables[j]`
/// belongs to `observations[j]` and is possible; their conditions are among the questions'. Throws
/// std::invalid_argument if a reading is impossible for its instrument.
Learned learn(const geometry::Case& content, const Questions& questions, const study::Sampler& sampler,
              const std::vector<Observation>& observations, const std::vector<Observable>& observables,
              const LearnOptions& options = {});

}  // namespace tuft::experiment
