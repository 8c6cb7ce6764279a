// What value of a quantity does the air carry through a face?
#pragma once

#include <algorithm>
#include <cmath>

#include "solver/field/problem.hpp"

namespace tuft::field {

/// Slope limiter of van Albada, van Leer and Roberts (1982, Astron. Astrophys. 108:76-84): a mean of the two
/// slopes a and b that leans to the smaller one, and is 0 where they differ in sign. `small` (slope squared)
/// keeps it smooth, and unlimited, where both slopes are small, so that smooth peaks are not clipped.
inline double limited_slope(double a, double b, double small) {
  const double product = std::max(a * b, 0.0);
  return (product * (a + b) + small * (a + b)) / (a * a + b * b + 2.0 * small);
}

/// Positions of the three nodes a face value is made from, seen along the flow: far upstream, upstream,
/// downstream; and of the face.
struct Stencil {
  double far, up, down, face;
};

/// Weight of the node downstream in a limited face value, the limiter frozen at these values; the node
/// upstream has the rest.
inline double limited_weight(const Stencil& x, double far, double up, double down, double small) {
  const double span = x.down - x.up, reach = x.face - x.up;
  const double a = (down - up) / span, b = (up - far) / (x.up - x.far);
  const double scale = std::abs(a) > 1e-12 * std::sqrt(small) ? limited_slope(a, b, small) / a : 1.0;
  return std::clamp(scale, 0.0, 1.5) * (reach / span);
}

/// Value at the face (docs/field.md, F9). `q` are the nodes' values; `r` those the limiter looks at: the same
/// for the true residual, a frozen field for a compact one, whose face value then depends on `up` and `down`
/// alone.
template <bool Compact>
inline double face_value(Convection scheme, const Stencil& x, double q_far, double q_up, double q_down,
                         double r_far, double r_up, double r_down, double small) {
  const double span = x.down - x.up, reach = x.face - x.up;
  switch (scheme) {
    case Convection::upwind:
      return q_up;
    case Convection::central:
      return q_up + (q_down - q_up) * (reach / span);
    case Convection::limited:
      break;
  }
  if constexpr (Compact) {
    return q_up + limited_weight(x, r_far, r_up, r_down, small) * (q_down - q_up);
  } else {
    const double a = (q_down - q_up) / span, b = (q_up - q_far) / (x.up - x.far);
    return q_up + limited_slope(a, b, small) * reach;
  }
}

}  // namespace tuft::field
