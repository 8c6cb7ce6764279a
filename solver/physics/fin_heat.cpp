#include "solver/physics/fin_heat.hpp"

#include <algorithm>
#include <cmath>

#include "solver/physics/air.hpp"
#include "solver/physics/rectangular_duct.hpp"

namespace tuft::elements {

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
  const double k = air::conductivity(temperature);
  // z = Re Pr Dh / L = m cp Dh^2 / (k A L): no viscosity in it.
  const double z_per_flow = air::specific_heat(temperature) * diameter * diameter / (k * c.area() * c.length);
  const ChannelNusselt nusselt =
      channel_nusselt(aspect, z_per_flow * mass_flow, air::prandtl(temperature), fins.entry);
  const double h = nusselt.value * k / diameter;
  const double h_by_flow = nusselt.d_inverse_length * z_per_flow * k / diameter;
  const FinEfficiency fin = fin_efficiency(h, c.height, fins.fin_thickness, fins.fin_conductivity);
  const double base_length = c.count * c.length;
  const double area = base_length * (2.0 * fin.value * c.height + c.gap);
  const double area_by_h = base_length * 2.0 * fin.d_coefficient * c.height;
  return {h * area, h_by_flow * (area + h * area_by_h)};
}

}  // namespace tuft::elements
