// What is uncertain, and what an instrument answers with.
#pragma once

#include <Eigen/Core>
#include <cmath>

#include "solver/numerics/checks.hpp"

namespace tuft::physics {

/// A value with the interval it is known to lie in (central 95 %); low <= nominal <= high.
struct Range {
  double nominal = 0.0;
  double low = 0.0;
  double high = 0.0;

  /// A quarter of the interval: the standard deviation it would have if it were normal.
  double deviation() const { return 0.25 * (high - low); }
};

/// What an instrument shows for one true value, as a distribution. `mean` and `deviation` hold for readings
/// that are taken; `detection` is the probability that there is one at all (that the vane turns).
struct Reading {
  double mean = 0.0;
  double deviation = 0.0;  ///< standard deviation
  double detection = 1.0;  ///< 0 .. 1
};

/// Probability that a standard normal variable is below x.
inline double normal_below(double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }

/// Throws std::invalid_argument unless all three components are finite.
inline void require_finite_vector(const Eigen::Vector3d& vector, const char* what) {
  for (int i = 0; i < 3; ++i) numerics::require_finite(vector[i], what);
}

}  // namespace tuft::physics
