#include "solver/physics/wall_layer.hpp"

#include <cmath>

#include "solver/numerics/checks.hpp"

namespace tuft::instruments {

double WallLayer::speed(double distance) const {
  base::require_not_negative(distance, "distance from the wall");
  if (distance >= thickness) return 0.0;
  const double y = distance / thickness;
  return 6.75 * peak_speed * y * (1.0 - y) * (1.0 - y);  // u1 = 27/4 u_max
}

double WallLayer::warmth(double distance) const {
  base::require_not_negative(distance, "distance from the wall");
  if (distance >= thickness) return 0.0;
  const double y = distance / thickness;
  return (1.0 - y) * (1.0 - y);
}

WallLayer wall_layer(const WarmWall& wall, double length) {
  base::require_positive(wall.wall, "temperature of the wall");
  base::require_positive(wall.room, "temperature of the room");
  base::require_within(wall.along, 0.0, 1.0, "component of gravity along the wall");
  base::require_positive(length, "length along the wall");
  const double film = 0.5 * (wall.wall + wall.room);
  const double density = air::density(wall.air, film);
  const double diffusivity = air::conductivity(film) / (density * air::specific_heat(film));
  const double lift = air::standard_gravity * wall.along * std::abs(wall.wall - wall.room) / film;
  base::require_positive(lift, "difference between wall and room");
  const double c1 = std::sqrt(80.0 / 3.0 * lift / (air::prandtl(film) + 20.0 / 21.0));
  WallLayer layer;
  const double u1 = c1 * std::sqrt(length);
  layer.thickness = std::sqrt(80.0 * diffusivity / c1) * std::pow(length, 0.25);
  layer.peak_speed = 4.0 / 27.0 * u1;
  layer.flow = u1 * layer.thickness / 12.0;
  layer.nusselt = 2.0 * length / layer.thickness;
  return layer;
}

}  // namespace tuft::instruments
