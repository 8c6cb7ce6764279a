// How much of an output's variance comes from whole groups of inputs, from a sample that is there anyway.
#pragma once

#include <vector>

#include "solver/uncertainty/indices.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {

/// First-order shares of groups of inputs in the variance of outputs, without a run more (D25): a sum of one
/// polynomial an input is fitted by least squares, and a group's share is the variance of its part of the sum
/// over that of the output, less what the noise of the fit feigns. What inputs do only together is in no
/// group, so that the shares add to 1 less that. The polynomials are of degree 3, or of as high a one as
/// there are five points for each of their coefficients. Standard error by a jackknife that leaves out one
/// twentieth of the points at a time.
///
/// `points` are independent and uniform in (0, 1), one column an input; `group[j]` in 0 .. groups - 1 is that
/// of column j. One row of shares an output, one entry a group; an output that does not vary has shares 0,
/// and so has a group without an input. Empty where there are fewer than five points for each input, or fewer
/// than 40. Throws std::invalid_argument if sizes do not agree, a group does not exist or a number is not
/// finite.
std::vector<std::vector<GivenDataIndex>> group_indices(const SampleMatrix& points,
                                                       const std::vector<int>& group, int groups,
                                                       const std::vector<std::vector<double>>& outputs);

}  // namespace tuft::uncertainty
