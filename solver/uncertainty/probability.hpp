// How likely an event is, how well that is known from the points taken so far, and rounds of sampling that go
// on until every verdict is settled or the budget is used.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/uncertainty/sample_matrix.hpp"
#include "solver/uncertainty/sobol.hpp"

namespace tuft::uncertainty {

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

/// A probability with its own uncertainty.
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

enum class Verdict { holds, fails, undecided };

/// Thresholds of a verdict, both judgements: one in twenty is the uncertainty that a published sentence may
/// carry.
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

/// Independently scrambled sequences, their points counted through: point k is point k / count of replicate
/// k mod count. Every round adds points at the end, and points k < count 2^m are whole nets.
class Replicates {
 public:
  /// Throws std::invalid_argument as Sobol does, or if count < 2.
  Replicates(int dimensions, int count, std::uint64_t seed);

  int count() const { return static_cast<int>(sequence_.size()); }
  int dimensions() const { return sequence_.front().dimensions(); }

  /// Writes the coordinates of point k, each within (0, 1).
  void point(std::uint64_t k, double* out) const;

  /// Points first .. first + count - 1, shared among threads.
  /// Throws std::invalid_argument if `count` is negative or a replicate would need more than 2^32.
  SampleMatrix points(std::uint64_t first, int count) const;

 private:
  std::vector<Sobol> sequence_;
};

/// How much may be spent; points for each replicate. The numbers are judgements.
struct Budget {
  int replicates = 16;
  int first = 64;   ///< in the first round; a power of two
  int most = 1024;  ///< in all; a power of two
};

/// Throws std::invalid_argument unless replicates >= 2, both numbers are powers of two and first <= most.
void require_valid(const Budget& budget);

enum class Progress {
  go_on,    ///< some verdict may still turn: take next_points()
  settled,  ///< every verdict is settled
  spent     ///< not settled, but the budget is used
};

/// Where a study stands after `done` points a replicate. Without a probability to settle, one round is
/// enough.
Progress progress(const std::vector<Probability>& probabilities, int done, const Budget& budget = {},
                  const VerdictRule& rule = {});

/// Points a replicate after the next round: `first`, then twice as many each time, up to `most`.
int next_points(int done, const Budget& budget = {});

}  // namespace tuft::uncertainty
