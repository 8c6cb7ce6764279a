// Which inputs hang together after something was measured.
#pragma once

#include <vector>

#include "solver/uncertainty/rows.hpp"

namespace tuft::belief {

/// Two inputs that hang together: what was measured tells their sum or ratio better than each of them.
struct Tie {
  int first = 0, second = 0;  ///< numbers of inputs, first < second
  double correlation = 0.0;   ///< of their normal scores, -1 .. 1
};

/// The pairs of a weighted sample whose normal scores (of weighted ranks, so that each input's own
/// distribution does not matter) are correlated by `least` or more, the strongest first; a pair has to stand
/// out of the noise of so many effective points, too (docs/theory.md, D22). `values[sample][input]`.
std::vector<Tie> ties(const doubt::Rows& values, const std::vector<double>& weights, double effective,
                      double least = 0.5);

}  // namespace tuft::belief
