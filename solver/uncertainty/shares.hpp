// What an output depends on, from a sample that is there anyway: shares of its variance.
#pragma once

#include <vector>

#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {

/// A share of an output's variance and its standard error.
struct Share {
  double first = 0.0;  ///< may fall a little below 0
  double error = 0.0;
};

/// First-order shares of sets of inputs in the variance of outputs, without a run more (D10). A sum of one
/// function an input is fitted by least squares: Legendre polynomials, or waves along an input that closes
/// upon itself. Those that stand out of the noise are fitted together, up to the eighth of an input; of all
/// others the first three count by what is left, less what noise feigns. The share of a set is the sum of
/// those of its inputs, to rounding. What inputs do only together is in none. Standard error by a jackknife
/// that leaves out one twentieth of the points at a time.
///
/// `points` are independent and uniform in (0, 1), one column an input; `cyclic[j]`: the ends of column j are
/// one. A set is a list of columns; sets may overlap, and an empty one has share 0. Of many points the first
/// some thousand are used. One row of shares an output, one entry a set; an output that does not vary has
/// shares 0. Empty where there are fewer than five points for each input, or fewer than 40. Outputs are
/// shared among threads. Throws std::invalid_argument if sizes do not agree, a column does not exist or a
/// number is not finite.
std::vector<std::vector<Share>> variance_shares(const SampleMatrix& points, const std::vector<bool>& cyclic,
                                                const std::vector<std::vector<int>>& sets,
                                                const std::vector<std::vector<double>>& outputs);

}  // namespace tuft::uncertainty
