// What an output hangs on: Sobol' indices.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/uncertainty/index_plan.hpp"
#include "solver/uncertainty/rows.hpp"

namespace tuft::doubt {

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
  double variance = 0.0;     ///< of the output; 0: it hangs on nothing, and every index is 0
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
Indices estimate_indices(const IndexPlan& plan, const std::vector<double>& output,
                         const Bootstrap& bootstrap = {});

}  // namespace tuft::doubt
