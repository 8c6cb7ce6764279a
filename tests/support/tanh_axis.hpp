// A grid axis that is stretched, to show that nothing depends on equal cells.
#pragma once

#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "solver/flow2d/problem.hpp"

namespace tuft::test {

/// n cells refined towards both ends by a hyperbolic tangent:
///     x(s) = from + L (1 + tanh(b (2 s - 1)) / tanh b) / 2,  s = 0 .. 1
/// `strength` b > 0; 2 makes the end cells about a seventh of the mean, small values tend to uniform.
inline flow2d::Axis tanh_axis(int n, double from, double to, double strength) {
  std::vector<double> faces(static_cast<std::size_t>(n) + 1);
  // Built from both ends with the same arithmetic, so that the two halves mirror each other to the last bit.
  const double half = 0.5 * (to - from);
  for (int i = 0; 2 * i <= n; ++i) {
    const double s = 1.0 - 2.0 * i / n;
    const double inset = half * (1.0 - std::tanh(strength * s) / std::tanh(strength));
    faces[static_cast<std::size_t>(i)] = from + inset;
    faces[static_cast<std::size_t>(n - i)] = to - inset;
  }
  return flow2d::Axis(std::move(faces));
}

}  // namespace tuft::test
