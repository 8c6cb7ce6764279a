// What a law of heat from a surface answers with.
#pragma once

namespace tuft::elements {

/// Heat leaving a surface per area, with its partial derivatives. Positive away from the surface.
struct HeatFlux {
  double value = 0.0;      ///< [W/m2]
  double d_surface = 0.0;  ///< by the surface's temperature [W/(m2 K)]
  double d_other = 0.0;    ///< by the temperature of the air or surface it goes to [W/(m2 K)]
};

}  // namespace tuft::elements
