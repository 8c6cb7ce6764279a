// Parallel fins a fan blows through: the heat side.
#pragma once

#include "solver/physics/channel_nusselt.hpp"
#include "solver/physics/fin_stack.hpp"

namespace tuft::elements {

/// Fin efficiency [-] and its derivative by the heat transfer coefficient [m2 K/W].
struct FinEfficiency {
  double value = 0.0;
  double d_coefficient = 0.0;
};

/// Straight fin with an insulated tip, cooled on both sides: tanh(M)/M, M = H sqrt(2 h / (k t)); h [W/(m2 K)]
/// >= 0, height H, thickness t [m], conductivity k [W/(m K)] > 0. Textbook algebra. For a free tip add t/2 to
/// H.
FinEfficiency fin_efficiency(double coefficient, double height, double thickness, double conductivity);

/// Fins that stand on a heated base and end at an insulated cover.
struct FinStackHeat {
  FinChannels channels;
  double fin_thickness = 0.0;     ///< [m], > 0
  double fin_conductivity = 0.0;  ///< [W/(m K)], > 0; aluminium about 200, copper 390
  Entry entry = Entry::Flat;
};

/// A conductance hA [W/K] and its derivative by the mass flow [W s/(K kg)].
struct Conductance {
  double value = 0.0;
  double d_flow = 0.0;
};

/// Conductance between the base and the air in the channels, n L h (2 eta H + gap): both fin sides of each
/// channel with the fin efficiency, and the base between them; h from `channel_nusselt`. Mass flow [kg/s] >=
/// 0 through all channels, properties at `temperature` [K], which the caller chooses and holds. Laminar,
/// channel Re < 2300. At no flow the fully developed value stays, so that `carried_heat` is smooth there.
Conductance fin_conductance(const FinStackHeat& fins, double mass_flow, double temperature);

}  // namespace tuft::elements
