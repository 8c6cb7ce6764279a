// What an output depends on: Sobol' indices, by a design of runs.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "solver/uncertainty/sample_matrix.hpp"
#include "solver/uncertainty/sobol.hpp"

namespace tuft::uncertainty {

/// The design A, B, A_B^g (D9): two independent samples of `base_points` points, and for each group g of
/// inputs the sample A with the group's columns taken from B. A group is a single input, or inputs that are
/// correlated and can only be looked at together (Correlation::groups). The caller runs its model on every
/// point, in any order and on any thread, and hands the outputs to estimate_indices().
class SaltelliDesign {
 public:
  /// `groups` empty: every input for itself. Throws std::invalid_argument unless base_points is a power of
  /// two
  /// >= 2, 1 <= inputs <= kMostDimensions / 2, and the groups are not empty and hold no input twice.
  SaltelliDesign(int inputs, int base_points, std::uint64_t seed, std::vector<std::vector<int>> groups = {});

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

/// Sensitivity of an output to one group of inputs. First order: the share of the output's variance that
/// would go if the group were known. Total: the share that would stay if everything else were known. Neither
/// is cut to 0 .. 1: an estimate near 0 may fall a little below.
struct Index {
  double first = 0.0;
  double total = 0.0;
  Interval first_interval;
  Interval total_interval;
};

struct Indices {
  double mean = 0.0;         ///< of the output
  double variance = 0.0;     ///< of the output; 0: it depends on nothing, and every index is 0
  std::vector<Index> group;  ///< one for each group of the plan
};

/// How intervals are found: rows of the design drawn anew with replacement, the estimators applied to each
/// draw, and the normal interval of their standard deviation. Rows of a Sobol' sequence are more even than
/// the independent ones this supposes, so that the intervals are rather too wide.
struct Bootstrap {
  int draws = 200;
  double level = 0.95;
  std::uint64_t seed = 1;
};

/// Estimates from the outputs of a plan's runs (D9). Throws std::invalid_argument if there is not one finite
/// output for each run, draws < 2, or not 0 < level < 1. The draws are shared among threads.
Indices estimate_indices(const SaltelliDesign& plan, const std::vector<double>& output,
                         const Bootstrap& bootstrap = {});

}  // namespace tuft::uncertainty
