#include "solver/physics/channel_nusselt.hpp"

#include <cmath>

#include "solver/physics/rectangular_duct.hpp"

namespace tuft::elements {
namespace {

/// (developed^n + (profile z^(1/3))^n + (layer z^(1/2))^n)^(1/n), n >= 3.
ChannelNusselt joined(double n, double developed, double profile, double layer, double z) {
  const double profile_n = std::pow(profile, n);
  const double layer_n = std::pow(layer, n);
  const double sum =
      std::pow(developed, n) + profile_n * std::pow(z, n / 3.0) + layer_n * std::pow(z, 0.5 * n);
  const double value = std::pow(sum, 1.0 / n);
  const double slope =
      profile_n * std::pow(z, n / 3.0 - 1.0) / 3.0 + layer_n * std::pow(z, 0.5 * n - 1.0) / 2.0;
  return {value, slope * value / sum};
}

double exponent(double aspect) { return 3.0 + std::sqrt(aspect); }

/// Factor of the developing term against that between plates.
double shear_factor(double aspect) {
  return std::cbrt(friction_constant(aspect) / friction_constant(0.0)) * (1.0 - 0.11 * std::sqrt(aspect));
}

}  // namespace

double developed_nusselt(double aspect) {
  const double a = aspect;
  return 7.541 * (1.0 + a * (-2.610 + a * (4.970 + a * (-5.119 + a * (2.702 - a * 0.548)))));
}

ChannelNusselt channel_nusselt(double aspect, double inverse_length, double prandtl, Entry entry) {
  const double layer = entry == Entry::Flat ? std::pow(2.0 / (1.0 + 22.0 * prandtl), 1.0 / 6.0) : 0.0;
  return joined(exponent(aspect), developed_nusselt(aspect), 1.841 * shear_factor(aspect), layer,
                inverse_length);
}

}  // namespace tuft::elements
