#include "solver/physics/plume.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"

namespace tuft::instruments {

namespace {

void require_plume(double flux, double height, double offset, double room) {
  base::require_not_negative(flux, "flux of buoyancy");
  base::require_positive(height, "height over the source");
  base::require_finite(offset, "distance from the plume's axis");
  base::require_positive(room, "temperature of the room");
}

}  // namespace

double buoyancy_flux(double heat_flow, const air::AirState& state, double temperature) {
  base::require_not_negative(heat_flow, "convective heat flow");
  base::require_positive(temperature, "temperature of the air");
  return air::standard_gravity * heat_flow /
         (air::density(state, temperature) * air::specific_heat(temperature) * temperature);
}

PlumeAir round_plume(double flux, double height, double radius, double room) {
  require_plume(flux, height, radius, room);
  const double spread = radius * radius / (height * height);
  const double root = std::cbrt(flux);
  PlumeAir air;
  air.speed = 4.7 * root / std::cbrt(height) * std::exp(-96.0 * spread);
  const double lift = 11.0 * root * root * std::pow(height, -5.0 / 3.0) * std::exp(-71.0 * spread);
  air.temperature_excess = lift * room / air::standard_gravity;
  return air;
}

PlumeAir line_plume(double flux, double height, double offset, double room) {
  require_plume(flux, height, offset, room);
  const double spread = offset * offset / (height * height);
  const double root = std::cbrt(flux);
  PlumeAir air;
  air.speed = 1.8 * root * std::exp(-32.0 * spread);
  const double lift = 2.6 * root * root / height * std::exp(-41.0 * spread);
  air.temperature_excess = lift * room / air::standard_gravity;
  return air;
}

PlumeAir patch_plume(const WarmPatch& patch, double height, double along_width, double along_height) {
  base::require_positive(patch.width, "width of the warm patch");
  base::require_positive(patch.height, "height of the warm patch");
  base::require_not_negative(patch.excess, "excess temperature of the warm patch");
  base::require_positive(height, "height over the warm patch");
  const double flux = buoyancy_flux(patch.heat_flow, patch.air, patch.room);
  const bool wide = patch.width >= patch.height;
  const double length = wide ? patch.width : patch.height, breadth = wide ? patch.height : patch.width;
  const double along = wide ? along_width : along_height, across = wide ? along_height : along_width;

  const double beside = std::max(0.0, std::abs(along) - 0.5 * length);
  const PlumeAir line = line_plume(flux / length, height + virtual_origin_widths * breadth,
                                   std::hypot(across, beside), patch.room);
  const PlumeAir round =
      round_plume(flux, height + virtual_origin_widths * length, std::hypot(across, along), patch.room);
  // Compare on the axis, so that one of the two is used over a whole cross-section.
  const double line_axis = 1.8 * std::cbrt(flux / length);
  const double round_axis = 4.7 * std::cbrt(flux / (height + virtual_origin_widths * length));
  PlumeAir air = line_axis <= round_axis ? line : round;
  const double rise = 2.0 * air::standard_gravity * patch.excess / patch.room * height;
  air.speed = std::min(air.speed, std::sqrt(rise));
  air.temperature_excess = std::min(air.temperature_excess, patch.excess);
  return air;
}

}  // namespace tuft::instruments
