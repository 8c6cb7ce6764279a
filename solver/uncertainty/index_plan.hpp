// Which points a study of sensitivity needs.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "solver/uncertainty/sobol.hpp"

namespace tuft::doubt {

/// The design A, B, A_B^g (D9): two independent samples of `base_points` points, and for each group g of
/// inputs the sample A with the group's columns taken from B. A group is a single input, or inputs that are
/// correlated and can only be looked at together (Correlation::groups). The caller runs its model on every
/// point, in any order and on any thread, and hands the outputs to estimate_indices().
class IndexPlan {
 public:
  /// `groups` empty: every input for itself. Throws std::invalid_argument unless base_points is a power of
  /// two
  /// >= 2, 1 <= inputs <= kMostDimensions / 2, and the groups are not empty and hold no input twice.
  IndexPlan(int inputs, int base_points, std::uint64_t seed, std::vector<std::vector<int>> groups = {});

  int inputs() const { return inputs_; }
  int base_points() const { return base_points_; }
  const std::vector<std::vector<int>>& groups() const { return groups_; }

  /// Number of runs, base_points (groups + 2): first A, then B, then A_B^0, A_B^1, ...
  std::size_t runs() const { return static_cast<std::size_t>(base_points_) * (groups_.size() + 2); }

  /// Writes the `inputs()` coordinates of a run, each in (0, 1); they are independent, to be tied afterwards.
  /// Throws std::invalid_argument unless run < runs().
  void point(std::size_t run, double* out) const;

 private:
  int inputs_ = 0;
  int base_points_ = 0;
  std::vector<std::vector<int>> groups_;
  Sobol sequence_;  ///< A in the first half of its dimensions, B in the second
};

}  // namespace tuft::doubt
