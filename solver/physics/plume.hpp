// Warm air rising on its own: above a warm opening or surface.
#pragma once

#include <Eigen/Core>

#include "solver/physics/air.hpp"

namespace tuft::instruments {

/// A round plume seems to come from this many source widths below the source (from memory, handbooks say 1.7
/// to 2.3).
constexpr double virtual_origin_widths = 2.0;

/// Flux of buoyancy [m4/s3] of a convective heat flow P [W] into air at a temperature [K]: g P/(rho cp T),
/// 0.0276 a kilowatt at 20 C (docs/theory.md, I7; derived).
double buoyancy_flux(double heat_flow, const air::AirState& state, double temperature);

/// A plume where it is: speed upwards, and what makes it rise.
struct PlumeAir {
  double speed = 0.0;               ///< [m/s]
  double temperature_excess = 0.0;  ///< [K]
};

/// Plume of a point source at a height z [m] > 0 and a distance r from the axis, room at a temperature [K]:
/// w = 4.7 B^(1/3) z^(-1/3) exp(-96 r^2/z^2), g' = 11 B^(2/3) z^(-5/3) exp(-71 r^2/z^2). Rouse H., Yih C.S.,
/// Humphreys H.W. (1952) Tellus 4:201-210, from memory.
PlumeAir round_plume(double buoyancy_flux, double height, double radius, double room);

/// Plume of a line source of B [m3/s3] per length: w = 1.8 B^(1/3) exp(-32 y^2/z^2), g' = 2.6 B^(2/3)/z
/// exp(-41 y^2/z^2); same source, from memory.
PlumeAir line_plume(double buoyancy_flux, double height, double offset, double room);

/// A warm rectangular patch that faces up, or the mouth of an opening with hardly any flow of its own.
struct WarmPatch {
  double width = 0.0;      ///< [m], > 0
  double height = 0.0;     ///< [m], > 0; the other horizontal side
  double heat_flow = 0.0;  ///< to the air, by convection [W], >= 0
  double excess = 0.0;     ///< of the patch over the room [K], >= 0; with it the air's speed is limited
  double room = 293.15;    ///< [K]
  air::AirState air;
};

/// Air above a warm patch at a height [m] > 0 over it and at offsets [m] from its centre along its sides.
///
/// The smaller speed of the two plumes that the patch would make as a line (along its longer side) and as a
/// round source, each from `virtual_origin_widths` below (I7; joining them so is judgement), and never more
/// than air of the patch's temperature gains by rising from rest, (2 g excess/T z)^(1/2) (derived). +-30 %
/// above one source width, a factor of 2 below (judgement).
PlumeAir patch_plume(const WarmPatch& patch, double height, double along_width, double along_height);

}  // namespace tuft::instruments
