// Air that climbs by its own warmth between two parallel walls open at both ends: the gap behind a device
// that leans on something, or plates that stand in the open.
#pragma once

#include "solver/air/air.hpp"
#include "solver/elements/heat_flux.hpp"

namespace tuft::elements {

/// Which of the two walls give off heat.
enum class ChimneyWalls {
  BothHeated,  ///< both at one temperature
  OneHeated    ///< one at a temperature, the other lets no heat through
};

/// Nusselt number [-] on the gap and its derivative by the channel Rayleigh number.
struct ChimneyNusselt {
  double value = 0.0;
  double d_elenbaas = 0.0;
};

/// Mean Nu = h b / k on wall minus entering air, of the channel Rayleigh number El = g beta (T_w - T_0) b^4 /
/// (nu alpha L) >= 0, b gap, L height: (576/El^2 + 2.873/El^(1/2))^(-1/2), one wall heated 144 for 576.
/// Elenbaas W. (1942) Physica 9:1-28; Bar-Cohen A., Rohsenow W.M. (1984) J. Heat Transfer 106:116-123, as
/// transcribed in the Mechanical Engineers' Handbook vol. 4. Small El: the air leaves as warm as the wall
/// (El/24, El/12); large El: a single plate, 0.59 Ra^(1/4).
ChimneyNusselt chimney_nusselt(double elenbaas, ChimneyWalls walls);

/// The same for walls of uniform heat flux q, on the wall temperature at mid-height, El' = g beta q b^5 /
/// (nu alpha L k) > 0, both heated: (12/El' + 1.88/El'^(2/5))^(-1/2); same source.
double chimney_nusselt_uniform_flux(double elenbaas);

/// Gap and height (along the flow) [m] > 0 of the channel; `along` = component of gravity along it, 1
/// upright, 0 lying, where no air climbs and no heat leaves.
struct Chimney {
  double gap = 0.0;
  double height = 0.0;
  double along = 1.0;
  ChimneyWalls walls = ChimneyWalls::OneHeated;
};

/// Heat flux per area of a heated wall at `wall` [K] in a gap that draws air of the room [K]; properties at
/// the mean of both, exact derivatives. A wall colder than the room sends the air down, the same with the
/// other sign. Wide compared with the gap, sides open or closed alike. It vanishes with the square of the
/// difference: what little is conducted out at the ends is left out.
HeatFlux chimney_flux(const Chimney& chimney, const air::AirState& state, double wall, double room);

/// Spacing [m] of thin isothermal plates of a height [m] that gets most heat out of a given volume:
/// 2.714 L / Ra_L^(1/4), Ra_L on the height. Bar-Cohen & Rohsenow 1984, as transcribed in Cengel Y.A., "Heat
/// and Mass Transfer", ch. 9. It is where `chimney_nusselt` over gap squared is largest, to 0.1 %.
double optimum_spacing(double height, double rayleigh);

}  // namespace tuft::elements
