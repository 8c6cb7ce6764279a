#include "solver/physics/support_gap.hpp"

#include <cmath>

#include "solver/physics/air.hpp"
#include "solver/numerics/checks.hpp"
#include "solver/physics/ends.hpp"
#include "solver/physics/sharp_opening.hpp"

namespace tuft::elements {

double gap_mean_width(double inner_width, double outer_width) {
  const double a = base::require_positive(inner_width, "width at the vent's edge");
  const double b = base::require_positive(outer_width, "width at the device's edge");
  // With u = (b - a)/(b + a): ln(b/a) = 2 artanh(u), and the mean is (b + a)/2 * u/artanh(u).
  const double u = (b - a) / (b + a);
  const double ratio = std::fabs(u) < 1e-4 ? 1.0 - u * u / 3.0 : u / std::atanh(u);
  return 0.5 * (a + b) * ratio;
}

FaceLaw support_gap(const GapPath& path) {
  const double h = base::require_positive(path.height, "gap height");
  const double l = base::require_not_negative(path.length, "gap length");
  const double mean = gap_mean_width(path.inner_width, path.outer_width);
  const double viscous = 12.0 * l / (h * h) * path.inner_width / mean;

  const double to_edge = path.inner_width / path.outer_width;
  const double inner = right_angle_loss + development_loss(0.0);
  const double outer = 0.5 * (flush_entry_loss + exit_loss) * to_edge * to_edge;
  return {viscous, 0.5 * (inner + outer)};
}

FaceLaw fabric(double air_permeability, double test_pressure) {
  constexpr double test_temperature = 293.15;
  const double w = base::require_positive(air_permeability, "air permeability");
  const double dp = base::require_positive(test_pressure, "test pressure");
  return {dp / (air::viscosity(test_temperature) * w), 0.0};
}

}  // namespace tuft::elements
