// Parallel fins a fan blows through: what they cost the flow, and the heat they give it.
#pragma once

#include "solver/numerics/sloped.hpp"
#include "solver/physics/face_law.hpp"

namespace tuft::physics {

/// Channels between parallel fins; lengths in m, all > 0. `count` channels need not be a whole number.
struct FinChannels {
  double count = 0.0;
  double gap = 0.0;     ///< clear width of one channel
  double height = 0.0;  ///< of the channels
  double length = 0.0;  ///< along the flow

  double area() const { return count * gap * height; }  ///< of all channels [m2]
};

/// Fins in a duct of `face_area` [m2] >= channels.area(), on the face velocity: laminar friction in
/// rectangular channels, developing-length loss K(inf), sudden narrowing into the channels and widening
/// behind them by the area ratio. The exit loss of whatever the duct opens into is not included. Range:
/// laminar, channel Re < 2300, x+ = length/(Dh Re) >= 0.005 (`passage` says why). Throws
/// std::invalid_argument if the face is smaller than the channels.
FaceLaw fin_stack(const FinChannels& channels, double face_area);

// Heat transfer of laminar flow in a rectangular channel, from its entry on.

/// What the velocity looks like where the heated walls begin.
enum class Entry {
  developed,  ///< fully developed profile
  flat        ///< the same velocity all over, as behind an opening; higher Nu
};

/// Fully developed, walls of one temperature, `aspect` = short/long side in [0, 1]: 7.541 (1 - 2.610 a
/// + 4.970 a^2
/// - 5.119 a^3 + 2.702 a^4 - 0.548 a^5). Shah R.K., London A.L., "Laminar Flow Forced Convection in Ducts",
/// Academic Press 1978, as transcribed in public code. Plates 7.541, square 2.976.
double developed_nusselt(double aspect);

/// Mean Nusselt number [-] on the hydraulic diameter, from the entry to a length L, walls of one temperature,
/// on the logarithmic mean temperature difference; z = 1/x* = Re Pr Dh / L >= 0:
///
///     Nu^n = Nu_T^n + (c z^(1/3))^n + ([2/(1 + 22 Pr)]^(1/6) z^(1/2))^n        (docs/theory.md, H2)
///
/// The last term, of a boundary layer that grows together with the profile, is only there for Entry::flat.
/// Between plates n = 3, c = 1.841, the law of the VDI-Waermeatlas, 9th ed. 2002, section Gb, as transcribed
/// in public code (0.1 < Pr < 1000). For other aspects the middle term goes with the mean wall shear of the
/// profile (Leveque), c = 1.841 (f Re / 24)^(1/3) (1 - 0.11 a^(1/2)) and n = 3 + a^(1/2): fitted to the
/// temperature field computed for aspects 1 .. 1/8, which it meets within 3.5 %
/// (tests/physics/channel_nusselt_test.cpp). With Entry::flat it is within 11 % of the law of Stephan (1959),
/// mostly above, and within 5 % of that of Teertstra et al. (2000) (tests/published). Smooth at z = 0. Re <
/// 2300.
numerics::Sloped channel_nusselt(double aspect, const numerics::Sloped& inverse_length, double prandtl,
                                 Entry entry);

// Parallel fins a fan blows through: the heat side.

/// Efficiency [-] of a straight fin with an insulated tip, cooled on both sides: tanh(M)/M, M = H sqrt(2 h /
/// (k t)); h [W/(m2 K)]
/// >= 0, height H, thickness t [m], conductivity k [W/(m K)] > 0. Textbook algebra. For a free tip add t/2 to
/// H.
numerics::Sloped fin_efficiency(const numerics::Sloped& coefficient, double height, double thickness,
                                double conductivity);

/// Fins that stand on a heated base and end at an insulated cover.
struct FinStackHeat {
  FinChannels channels;
  double fin_thickness = 0.0;     ///< [m], > 0
  double fin_conductivity = 0.0;  ///< [W/(m K)], > 0; aluminium about 200, copper 390
  Entry entry = Entry::flat;
  double film_factor = 1.0;  ///< times the film of `channel_nusselt` [-], > 0
};

/// Conductance hA [W/K] between the base and the air in the channels, n L h (2 eta H + gap): both fin sides
/// of each channel with the fin efficiency, and the base between them; h from `channel_nusselt`. Mass flow
/// [kg/s] >= 0 through all channels, properties at `temperature` [K], which the caller chooses and holds.
/// Laminar, channel Re < 2300. At no flow the fully developed value stays, so that `carried_heat` is smooth
/// there.
numerics::Sloped fin_conductance(const FinStackHeat& fins, const numerics::Sloped& mass_flow,
                                 double temperature);

// How much of what it could take up a stream takes up from a wall of one temperature.

/// Effectiveness 0 .. 1 [-]: 1 - exp(-NTU), NTU = h A / (m cp) >= 0; a wall of one temperature (exact).
/// ASHRAE Handbook - Fundamentals, ch. 4, eqs. 39, 48.
numerics::Sloped effectiveness(const numerics::Sloped& transfer_units);

/// Heat carried off per kelvin between wall and entering air, m cp eps [W/K], by a mass flow [kg/s] >= 0 with
/// specific heat cp [J/(kg K)] past a wall of conductance hA [W/K] > 0. Tends to m cp as the flow goes to 0,
/// smoothly, and never exceeds it or hA.
numerics::Sloped carried_heat(const numerics::Sloped& mass_flow, double specific_heat,
                              const numerics::Sloped& conductance);

}  // namespace tuft::physics
