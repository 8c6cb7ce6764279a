// First-order sensitivity from a sample that is there anyway, weighted or not, without a run more.
#pragma once

#include <vector>

#include "solver/uncertainty/rows.hpp"

namespace tuft::doubt {

/// An estimate and its standard error.
struct GivenIndex {
  double first = 0.0;  ///< share of the variance explained by the input alone; may fall a little below 0
  double error = 0.0;  ///< standard error
};

/// First-order indices of every column of `inputs` (D10): the sample is cut into bins of equal weight along
/// the input, and the variance of the bins' means, less what the scatter within the bins feigns, is set
/// against the whole variance. Standard error by a jackknife that leaves out one twentieth of the points at a
/// time. Inputs may be correlated; the index is then what would go if this input were known, with all that
/// hangs on it. An input that does not vary, or an output that doesn't, has index 0.
///
/// `weight` empty: all equal. `bins` 0: a number suited to the size of the sample, 4 to 32.
/// Throws std::invalid_argument if rows, outputs and weights differ in number, a number is not finite, a
/// weight is negative, all are 0, there are fewer than 40 points, or bins is 1, negative, or more than a
/// tenth of the points. Columns are shared among threads.
std::vector<GivenIndex> given_data_indices(const Rows& inputs, const std::vector<double>& output,
                                           const std::vector<double>& weight = {}, int bins = 0);

}  // namespace tuft::doubt
