#include "solver/physics/exchange.hpp"

#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::elements {
namespace {

using base::kPi;
constexpr double kDischarge = 0.61;           // sharp edge; the law of sharp_opening
constexpr double kPurgeRatio = 0.20 / 0.055;  // flooding flow over exchange flow at no net flow
constexpr double kPurgeExponent = 2.3;

}  // namespace

double epstein_coefficient(double length_over_diameter) {
  const double x = length_over_diameter;
  const double duct = 1.0 + 400.0 * x * x * x;
  const double x2 = x * x;
  const double friction = std::pow(x2 * x2 * x2 + 117.0 * x2, 0.75);
  return 0.055 * std::pow(duct, 1.0 / 6.0) / std::cbrt(1.0 + 0.00527 * std::sqrt(duct) * friction);
}

ExchangeLaw exchange_law(double area, double depth) {
  const double diameter = std::sqrt(4.0 * area / kPi);
  const double velocity_number = 8.0 * epstein_coefficient(depth / diameter) / kPi;
  return {area, velocity_number * velocity_number / (2.0 * kDischarge * kDischarge) * diameter};
}

Exchange exchange_under_heavier_air(const ExchangeLaw& law, double drive, double alpha, double beta,
                                    double through) {
  Exchange out;
  if (drive <= 0.0 || law.area <= 0.0) return out;
  const double head = law.head_per_drive * drive;
  const double root = std::sqrt(alpha * alpha + 4.0 * beta * head);
  const double flux = 2.0 * head / (alpha + root);
  const double still = 0.5 * law.area * flux;
  const double used = through / (kPurgeRatio * still);
  if (used >= 1.0) return out;
  const double left = std::pow(1.0 - used, kPurgeExponent);
  const double left_slope = -kPurgeExponent * left / (1.0 - used);
  out.flow = still * left;
  out.d_through = left_slope / kPurgeRatio;
  const double by_still = left - used * left_slope;
  out.d_drive = by_still * 0.5 * law.area * law.head_per_drive / root;
  out.d_alpha = -by_still * 0.5 * law.area * flux / root;
  out.d_beta = -by_still * 0.5 * law.area * flux * flux / root;
  return out;
}

}  // namespace tuft::elements
