// Rounds of sampling: independently scrambled sequences grow together until every verdict is settled or the
// budget is used.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/uncertainty/probability.hpp"
#include "solver/uncertainty/sobol.hpp"

namespace tuft::doubt {

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
  Rows points(std::uint64_t first, int count) const;

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

}  // namespace tuft::doubt
