// What value of a quantity does the air carry through a face?
#pragma once

#include <algorithm>

#include "solver/flow2d/problem.hpp"

namespace tuft::flow2d {

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

/// d limited_slope / d a, the share of a in the slope: 1/2 where both are the same.
inline double limited_share(double a, double b, double small) {
  const bool same = a * b > 0.0;
  const double sum = (same ? a * b : 0.0) + small, size = a * a + b * b + 2.0 * small;
  return ((same ? b * (a + b) : 0.0) + sum - sum * (a + b) * 2.0 * a / size) / size;
}

/// What a limited face value changes by per unit of the node downstream. The compact form gives all the rest
/// to the node upstream, the far node's part as well, so that even changes pass; a limiter frozen as a factor
/// would count the node downstream twice where profiles are smooth, and preconditions far worse.
inline double compact_weight(const Stencil& x, double far, double up, double down, double small) {
  const double span = x.down - x.up, reach = x.face - x.up;
  const double a = (down - up) / span, b = (up - far) / (x.up - x.far);
  return std::clamp(limited_share(a, b, small), 0.0, 1.0) * (reach / span);
}

/// Value at the face (docs/field.md, F9) of a quantity with these values at the three nodes; central ones are
/// worked out where both nodes are at hand.
inline double face_value(Convection scheme, const Stencil& x, double far, double up, double down,
                         double small) {
  if (scheme == Convection::upwind) return up;
  const double a = (down - up) / (x.down - x.up), b = (up - far) / (x.up - x.far);
  return up + limited_slope(a, b, small) * (x.face - x.up);
}

}  // namespace tuft::flow2d
