#include "solver/physics/rectangular_duct.hpp"

#include <algorithm>

#include "solver/numerics/checks.hpp"

namespace tuft::elements {

double friction_constant(double aspect) {
  const double a = aspect;
  return 24.0 * (1.0 + a * (-1.3553 + a * (1.9467 + a * (-1.7012 + a * (0.9564 - a * 0.2537)))));
}

double development_loss(double aspect) {
  const double a = aspect;
  // Constant term 2 (54/35 - 6/5), exact between plates; the rest fitted to the integrated series.
  return 24.0 / 35.0 + a * (1.45497 + a * (1.16780 + a * (-3.39288 + a * 1.63624)));
}

double hydraulic_diameter(double side_a, double side_b) { return 2.0 * side_a * side_b / (side_a + side_b); }

double duct_friction(double side_a, double side_b, double length) {
  const double diameter =
      hydraulic_diameter(base::require_positive(side_a, "side"), base::require_positive(side_b, "side"));
  const double aspect = std::min(side_a, side_b) / std::max(side_a, side_b);
  return 2.0 * friction_constant(aspect) * base::require_not_negative(length, "length") /
         (diameter * diameter);
}

}  // namespace tuft::elements
