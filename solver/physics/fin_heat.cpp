#include "solver/physics/fin_heat.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/physics/air.hpp"
#include "solver/physics/openings.hpp"

namespace tuft::physics {
namespace {

using numerics::Sloped;

/// Onset that no flow reaches [1/m]: the viscous part keeps the mean of both sides (docs/theory.md, E16).
constexpr double kNever = 1e9;

/// (developed^n + (profile z^(1/3))^n + (layer z^(1/2))^n)^(1/n), n >= 3.
Sloped joined(double n, double developed, double profile, double layer, const Sloped& z) {
  return pow(
      std::pow(developed, n) + std::pow(profile, n) * pow(z, n / 3.0) + std::pow(layer, n) * pow(z, 0.5 * n),
      1.0 / n);
}

double exponent(double aspect) { return 3.0 + std::sqrt(aspect); }

/// Factor of the developing term against that between plates.
double shear_factor(double aspect) {
  return std::cbrt(friction_constant(aspect) / friction_constant(0.0)) * (1.0 - 0.11 * std::sqrt(aspect));
}

}  // namespace

FaceLaw fin_stack(const FinChannels& channels, double face_area) {
  numerics::require_positive(channels.count, "number of channels");
  numerics::require_positive(face_area, "face area");
  const double friction = duct_friction(channels.gap, channels.height, channels.length);
  const double ratio =
      numerics::require_within(channels.area() / face_area, 0.0, 1.0 + 1e-12, "channel area over face area");
  const double aspect = std::min(channels.gap, channels.height) / std::max(channels.gap, channels.height);
  const double loss = narrowing_loss(ratio) + development_loss(aspect) + widening_loss(ratio);
  // Air warms in the channels as it passes: its viscosity is the mean of both sides at every speed.
  return on_face({friction, 0.5 * loss, 0.0, 0.0, kNever}, ratio);
}

double developed_nusselt(double aspect) {
  const double a = aspect;
  return 7.541 * (1.0 + a * (-2.610 + a * (4.970 + a * (-5.119 + a * (2.702 - a * 0.548)))));
}

Sloped channel_nusselt(double aspect, const Sloped& inverse_length, double prandtl, Entry entry) {
  const double layer = entry == Entry::flat ? std::pow(2.0 / (1.0 + 22.0 * prandtl), 1.0 / 6.0) : 0.0;
  return joined(exponent(aspect), developed_nusselt(aspect), 1.841 * shear_factor(aspect), layer,
                inverse_length);
}

Sloped fin_efficiency(const Sloped& coefficient, double height, double thickness, double conductivity) {
  const Sloped square = 2.0 * height * height / (conductivity * thickness) * coefficient;
  // By its series where the slope of tanh M / M cancels.
  if (square.value < 1e-4) return 1.0 + square * (-1.0 / 3.0 + square * (2.0 / 15.0 - 17.0 / 315.0 * square));
  const Sloped m = sqrt(square);
  return tanh(m) / m;
}

Sloped fin_conductance(const FinStackHeat& fins, const Sloped& mass_flow, double temperature) {
  const FinChannels& c = fins.channels;
  const double diameter = hydraulic_diameter(c.gap, c.height);
  const double aspect = std::min(c.gap, c.height) / std::max(c.gap, c.height);
  const double k = physics::conductivity(temperature);
  // z = Re Pr Dh / L = m cp Dh^2 / (k A L): no viscosity in it.
  const double z_per_flow =
      physics::specific_heat(temperature) * diameter * diameter / (k * c.area() * c.length);
  const Sloped h =
      channel_nusselt(aspect, z_per_flow * mass_flow, physics::prandtl(temperature), fins.entry) *
      fins.film_factor * k / diameter;
  const Sloped fin = fin_efficiency(h, c.height, fins.fin_thickness, fins.fin_conductivity);
  return h * (c.count * c.length * (2.0 * fin * c.height + c.gap));
}

Sloped effectiveness(const Sloped& transfer_units) { return -expm1(-transfer_units); }

Sloped carried_heat(const Sloped& mass_flow, double specific_heat, const Sloped& conductance) {
  const Sloped capacity = mass_flow * specific_heat;
  // Beyond 700 the exponential is nothing, and the division would overflow on the way to zero flow.
  if (capacity.value * 700.0 <= conductance.value) return capacity;
  return capacity * effectiveness(conductance / capacity);
}

}  // namespace tuft::physics
