// How likely an event is, and how well that is known from the points taken so far.
#pragma once

#include <vector>

#include "solver/uncertainty/rows.hpp"

namespace tuft::doubt {

/// What one replicate (an independently scrambled sequence) says about an event.
struct ReplicateCount {
  double hits = 0.0;     ///< weight of the points where the event takes place
  double total = 0.0;    ///< weight of all of its points
  double squares = 0.0;  ///< sum of the squared weights
};

/// Counts an event by replicate; point k belongs to replicate k mod `replicates`. `event[k]` is 1 where it
/// takes place and 0 where not, or a share between. `weight` empty: all equal.
/// Throws std::invalid_argument if replicates < 2, there are fewer points than replicates, sizes differ, an
/// event is outside 0 .. 1, a weight is negative or not finite, or all weights are 0.
std::vector<ReplicateCount> count_replicates(const std::vector<double>& event, int replicates,
                                             const std::vector<double>& weight = {});

/// A probability with its own doubt.
struct Probability {
  double value = 0.0;
  double standard_error = 0.0;  ///< from the spread of the replicates
  Interval interval;            ///< holds the true value at the level asked for; within 0 .. 1
  double effective = 0.0;       ///< effective number of points; all of them if the weights are equal
};

/// Level of the intervals by which a verdict is called settled. Judgement: high, because they are looked at
/// anew after every round.
constexpr double kSettledLevel = 0.99;

/// Ratio of the counts, standard error and Student interval of the replicates (D8). Where fewer points than
/// replicates lie on one side of the event, the replicates differ too little to show their error, and the
/// interval is widened to Wilson's for as many independent points.
/// Throws std::invalid_argument unless there are at least two replicates with weight and 0 < level < 1.
Probability probability(const std::vector<ReplicateCount>& counts, double level = kSettledLevel);

enum class Verdict { holds, fails, cannot_tell };

/// Thresholds of a verdict, both judgements: one in twenty is the doubt that a published sentence may carry.
struct VerdictRule {
  double holds_from = 0.95;  ///< probability from which a claim holds
  double fails_to = 0.05;    ///< probability up to which it fails
};

/// Throws std::invalid_argument unless 0 <= fails_to < holds_from <= 1.
void require_valid(const VerdictRule& rule);

/// By the value alone; see settled() for whether more points could turn it.
Verdict verdict(const Probability& probability, const VerdictRule& rule = {});

/// True if the whole interval lies on the value's side of both thresholds.
bool settled(const Probability& probability, const VerdictRule& rule = {});

}  // namespace tuft::doubt
