#include "solver/physics/drag.hpp"

#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/numerics/monotone_cubic.hpp"

namespace tuft::instruments {

namespace {

using base::kPi;
constexpr double creeping = 0.2, white_from = 0.6;

double lamb(double reynolds) { return 8.0 * kPi / (reynolds * (0.5 - 0.5772 - std::log(reynolds / 8.0))); }
double white(double reynolds) { return 1.0 + 10.0 / std::cbrt(reynolds * reynolds); }

/// 0 below `creeping`, 1 above `white_from`, smooth between in ln Re.
double joint(double reynolds) {
  if (reynolds <= creeping) return 0.0;
  if (reynolds >= white_from) return 1.0;
  const double t = std::log(reynolds / creeping) / std::log(white_from / creeping);
  return t * t * (3.0 - 2.0 * t);
}

/// High-Reynolds drag of a strip by the inverse of its aspect.
double wide_drag(double aspect) {
  static const base::MonotoneCubic curve({0.0, 0.05, 0.1, 0.2, 1.0}, {2.0, 1.5, 1.3, 1.2, 1.18});
  return curve(1.0 / aspect).value;
}

void require_air(const DragAir& air) {
  base::require_positive(air.density, "density of the air");
  base::require_positive(air.viscosity, "kinematic viscosity of the air");
}

/// 1/2 rho size [steady u|u| + viscous (nu/size)^(2/3) |u|^(1/3) u].
DragForce two_terms(double velocity, double size, double steady, double viscous, const DragAir& air) {
  const double speed = std::abs(velocity);
  const double factor = viscous * std::pow(air.viscosity / size, 2.0 / 3.0) * std::cbrt(speed);
  const double half = 0.5 * air.density * size;
  return {half * (steady * speed + factor) * velocity, half * (2.0 * steady * speed + 4.0 / 3.0 * factor)};
}

}  // namespace

double cylinder_drag(double reynolds) {
  base::require_positive(reynolds, "Reynolds number of a thread");
  const double share = joint(reynolds);
  if (share <= 0.0) return lamb(reynolds);
  if (share >= 1.0) return white(reynolds);
  return std::exp((1.0 - share) * std::log(lamb(reynolds)) + share * std::log(white(reynolds)));
}

DragForce thread_across(double velocity, double diameter, const DragAir& air) {
  base::require_finite(velocity, "air velocity at the thread");
  base::require_positive(diameter, "diameter of the thread");
  require_air(air);
  const double reynolds = std::abs(velocity) * diameter / air.viscosity;
  if (reynolds >= white_from) return two_terms(velocity, diameter, 1.0, 10.0, air);
  // Creeping flow: the force is all but linear, its slope taken over a small step in ln(speed).
  const double least = std::max(reynolds, 1e-6);
  const double viscosity = air.density * air.viscosity;
  const auto per_velocity = [&](double re) { return 0.5 * viscosity * re * cylinder_drag(re); };
  const double step = 1e-4;
  const double bend =
      (per_velocity(least * (1.0 + step)) - per_velocity(least * (1.0 - step))) / (2.0 * step);
  return {per_velocity(least) * velocity, per_velocity(least) + bend};
}

DragForce thread_along(double velocity, double diameter, const DragAir& air) {
  base::require_finite(velocity, "air velocity along the thread");
  base::require_positive(diameter, "diameter of the thread");
  require_air(air);
  return two_terms(velocity, diameter, 0.0, 5.0, air);
}

DragForce strip_across(double velocity, double width, double length, const DragAir& air) {
  base::require_finite(velocity, "air velocity at the strip");
  base::require_positive(width, "width of the strip");
  base::require_positive(length, "length of the strip");
  require_air(air);
  const double aspect = width < length ? length / width : width / length;
  return two_terms(velocity, width, wide_drag(aspect), 10.0, air);
}

DragForce strip_along(double velocity, double width, double length, const DragAir& air) {
  base::require_finite(velocity, "air velocity along the strip");
  base::require_positive(width, "width of the strip");
  base::require_positive(length, "length of the strip");
  require_air(air);
  const double root = std::sqrt(std::abs(velocity) * air.viscosity / length);
  const double factor = air.density * width * 1.328 * root;
  return {factor * velocity, 1.5 * factor};
}

}  // namespace tuft::instruments
