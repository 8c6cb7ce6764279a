#include "solver/physics/fin_heat.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/physics/air.hpp"
#include "solver/physics/ends.hpp"
#include "solver/physics/sharp_opening.hpp"

namespace tuft::physics {

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

FaceLaw fin_stack(const FinChannels& channels, double face_area) {
  numerics::require_positive(channels.count, "number of channels");
  numerics::require_positive(face_area, "face area");
  const double friction = duct_friction(channels.gap, channels.height, channels.length);
  const double ratio =
      numerics::require_within(channels.area() / face_area, 0.0, 1.0 + 1e-12, "channel area over face area");
  const double aspect = std::min(channels.gap, channels.height) / std::max(channels.gap, channels.height);
  const double loss = narrowing_loss(ratio) + development_loss(aspect) + widening_loss(ratio);
  return on_face({friction, 0.5 * loss}, ratio);
}

double developed_nusselt(double aspect) {
  const double a = aspect;
  return 7.541 * (1.0 + a * (-2.610 + a * (4.970 + a * (-5.119 + a * (2.702 - a * 0.548)))));
}

ChannelNusselt channel_nusselt(double aspect, double inverse_length, double prandtl, Entry entry) {
  const double layer = entry == Entry::flat ? std::pow(2.0 / (1.0 + 22.0 * prandtl), 1.0 / 6.0) : 0.0;
  return joined(exponent(aspect), developed_nusselt(aspect), 1.841 * shear_factor(aspect), layer,
                inverse_length);
}

FinEfficiency fin_efficiency(double coefficient, double height, double thickness, double conductivity) {
  const double square_per_h = 2.0 * height * height / (conductivity * thickness);
  const double square = square_per_h * coefficient;
  // d (tanh M / M) / d (M^2) = (M sech^2 M - tanh M) / (2 M^3); by its series where that cancels.
  if (square < 1e-4) {
    return {1.0 - square / 3.0 + 2.0 / 15.0 * square * square,
            square_per_h * (-1.0 / 3.0 + 4.0 / 15.0 * square - 17.0 / 105.0 * square * square)};
  }
  const double m = std::sqrt(square);
  const double tangent = std::tanh(m);
  const double by_square = (m * (1.0 - tangent * tangent) - tangent) / (2.0 * square * m);
  return {tangent / m, square_per_h * by_square};
}

Conductance fin_conductance(const FinStackHeat& fins, double mass_flow, double temperature) {
  const FinChannels& c = fins.channels;
  const double diameter = hydraulic_diameter(c.gap, c.height);
  const double aspect = std::min(c.gap, c.height) / std::max(c.gap, c.height);
  const double k = physics::conductivity(temperature);
  // z = Re Pr Dh / L = m cp Dh^2 / (k A L): no viscosity in it.
  const double z_per_flow =
      physics::specific_heat(temperature) * diameter * diameter / (k * c.area() * c.length);
  const ChannelNusselt nusselt =
      channel_nusselt(aspect, z_per_flow * mass_flow, physics::prandtl(temperature), fins.entry);
  const double h = nusselt.value * k / diameter;
  const double h_by_flow = nusselt.d_inverse_length * z_per_flow * k / diameter;
  const FinEfficiency fin = fin_efficiency(h, c.height, fins.fin_thickness, fins.fin_conductivity);
  const double base_length = c.count * c.length;
  const double area = base_length * (2.0 * fin.value * c.height + c.gap);
  const double area_by_h = base_length * 2.0 * fin.d_coefficient * c.height;
  return {h * area, h_by_flow * (area + h * area_by_h)};
}

Effectiveness effectiveness(double transfer_units) {
  return {-std::expm1(-transfer_units), std::exp(-transfer_units)};
}

CarriedHeat carried_heat(double mass_flow, double specific_heat, double conductance, double d_conductance) {
  const double capacity = mass_flow * specific_heat;
  // Beyond 700 the exponential is nothing, and the division would overflow on the way to zero flow.
  if (capacity * 700.0 <= conductance) return {capacity, specific_heat};
  const Effectiveness share = effectiveness(conductance / capacity);
  const double by_conductance = share.d_transfer_units;
  const double by_capacity = share.value - share.d_transfer_units * conductance / capacity;
  return {capacity * share.value, specific_heat * by_capacity + by_conductance * d_conductance};
}

}  // namespace tuft::physics
