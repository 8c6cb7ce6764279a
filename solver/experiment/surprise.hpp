// Observations that the model can't explain, and what is most likely behind it.
#pragma once

#include <vector>

#include "solver/uncertainty/likelihood.hpp"
#include "solver/uncertainty/rows.hpp"
#include "solver/uncertainty/weights.hpp"

namespace tuft::belief {

/// An input that would have to be otherwise for an observation to make sense.
struct Suspect {
  int input = 0;
  double correlation = 0.0;  ///< of its normal score with what the instrument is shown
  bool larger = false;       ///< it would have to be larger
};

/// How an observation lies among what all the others, and the case, let one expect.
struct Surprise {
  doubt::PredictiveTail tail;
  double lapse = 0.0;        ///< probability that the reading is a toss-up, not what was seen; 0 for numbers
  double expected = 0.0;     ///< median of what the instrument would be shown
  doubt::Interval interval;  ///< central 90 % of it
  double effective = 0.0;    ///< effective points that told so
  bool unexplained = false;
  bool out_of_reach = false;      ///< no input could explain it by itself: something is missing in the case
  std::vector<Suspect> suspects;  ///< of an unexplained one, by falling strength; at most three
};

/// Two-sided tail below which an observation counts as unexplained; shared among all of them (judgement).
constexpr double kSurprising = 0.05;

/// Probability of a lapse above which it counts as unexplained however many observations there are: the
/// reading is more likely a lapse than not.
constexpr double kLikelyLapse = 0.5;

/// Strict posterior predictive check (docs/theory.md, D13): each observation against the sample that knows
/// the others only. `base[i]` are log-weights the points have anyway, `likelihood(i, j)` of observation j,
/// `shown[j][i]` what point i shows, `scores` the normal scores of the points' inputs, correlated as these
/// are.
std::vector<Surprise> surprises(const std::vector<double>& base, const doubt::Rows& likelihood,
                                const std::vector<doubt::ErrorModel>& errors,
                                const std::vector<double>& readings,
                                const std::vector<std::vector<double>>& shown, const doubt::Rows& scores);

}  // namespace tuft::belief
