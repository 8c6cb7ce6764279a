#include "solver/physics/background_air.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/jet.hpp"

namespace tuft::physics {
namespace {

void require_plume(double flux, double height, double offset, double room) {
  numerics::require_not_negative(flux, "flux of buoyancy");
  numerics::require_positive(height, "height over the source");
  numerics::require_finite(offset, "distance from the plume's axis");
  numerics::require_positive(room, "temperature of the room");
}

constexpr double least_disturbing_speed = 1e-6;  // [m/s]: stiller air is still
constexpr double mouth_area = 120e-6;            // [m2]
constexpr double minute_volume = 8.8e-3 / 60.0;  // [m3/s]
constexpr double breath_temperature = 34.0 + numerics::kZeroCelsius;
constexpr double fastest_breath = 1.4, breath_reach = 0.8;
constexpr double body_speed = 0.25, body_layer = 0.05, body_draught = 0.02;
constexpr double hand_temperature = 33.0 + numerics::kZeroCelsius, hand_film = 4.0, hand_area = 0.04;
constexpr double hand_width = 0.18, hand_breadth = 0.09;

}  // namespace

double buoyancy_flux(double heat_flow, const AirState& state, double temperature) {
  numerics::require_not_negative(heat_flow, "convective heat flow");
  numerics::require_positive(temperature, "temperature of the air");
  return standard_gravity * heat_flow /
         (physics::density(state, temperature) * specific_heat(temperature) * temperature);
}

PlumeAir round_plume(double flux, double height, double radius, double room) {
  require_plume(flux, height, radius, room);
  const double spread = radius * radius / (height * height);
  const double root = std::cbrt(flux);
  PlumeAir air;
  air.speed = 4.7 * root / std::cbrt(height) * std::exp(-96.0 * spread);
  const double lift = 11.0 * root * root * std::pow(height, -5.0 / 3.0) * std::exp(-71.0 * spread);
  air.temperature_excess = lift * room / standard_gravity;
  return air;
}

PlumeAir line_plume(double flux, double height, double offset, double room) {
  require_plume(flux, height, offset, room);
  const double spread = offset * offset / (height * height);
  const double root = std::cbrt(flux);
  PlumeAir air;
  air.speed = 1.8 * root * std::exp(-32.0 * spread);
  const double lift = 2.6 * root * root / height * std::exp(-41.0 * spread);
  air.temperature_excess = lift * room / standard_gravity;
  return air;
}

PlumeAir patch_plume(const WarmPatch& patch, double height, double along_width, double along_height) {
  numerics::require_positive(patch.width, "width of the warm patch");
  numerics::require_positive(patch.height, "height of the warm patch");
  numerics::require_not_negative(patch.excess, "excess temperature of the warm patch");
  numerics::require_positive(height, "height over the warm patch");
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
  const double rise = 2.0 * standard_gravity * patch.excess / patch.room * height;
  air.speed = std::min(air.speed, std::sqrt(rise));
  air.temperature_excess = std::min(air.temperature_excess, patch.excess);
  return air;
}

double WallLayer::speed(double distance) const {
  numerics::require_not_negative(distance, "distance from the wall");
  if (distance >= thickness) return 0.0;
  const double y = distance / thickness;
  return 6.75 * peak_speed * y * (1.0 - y) * (1.0 - y);  // u1 = 27/4 u_max
}

double WallLayer::warmth(double distance) const {
  numerics::require_not_negative(distance, "distance from the wall");
  if (distance >= thickness) return 0.0;
  const double y = distance / thickness;
  return (1.0 - y) * (1.0 - y);
}

WallLayer wall_layer(const WarmWall& wall, double length) {
  numerics::require_positive(wall.wall, "temperature of the wall");
  numerics::require_positive(wall.room, "temperature of the room");
  numerics::require_within(wall.along, 0.0, 1.0, "component of gravity along the wall");
  numerics::require_positive(length, "length along the wall");
  const double film = 0.5 * (wall.wall + wall.room);
  const double density = physics::density(wall.air, film);
  const double diffusivity = conductivity(film) / (density * specific_heat(film));
  const double lift = standard_gravity * wall.along * std::abs(wall.wall - wall.room) / film;
  numerics::require_positive(lift, "difference between wall and room");
  const double c1 = std::sqrt(80.0 / 3.0 * lift / (prandtl(film) + 20.0 / 21.0));
  WallLayer layer;
  const double u1 = c1 * std::sqrt(length);
  layer.thickness = std::sqrt(80.0 * diffusivity / c1) * std::pow(length, 0.25);
  layer.peak_speed = 4.0 / 27.0 * u1;
  layer.flow = u1 * layer.thickness / 12.0;
  layer.nusselt = 2.0 * length / layer.thickness;
  return layer;
}

Disturbance breath(double distance, double room) {
  numerics::require_positive(distance, "distance of the mouth");
  numerics::require_positive(room, "temperature of the room");
  const double peak = numerics::kPi * minute_volume / mouth_area;
  const double jet = grille_jet_constant * std::sqrt(mouth_area) * peak / distance;
  const double speed = std::min(jet, fastest_breath);
  // A jet's warmth falls off as its speed does (I6).
  const double excess = (breath_temperature - room) * std::min(1.0, 0.85 * jet / peak);
  return {"breath",
          {speed, distance > breath_reach ? 0.0 : 0.5 * speed, 1.5 * speed},
          {room + excess, std::min(room, room + excess), std::max(room + excess, breath_temperature)},
          "mouth opening, volume, temperature: Indoor Air 31 (2021) 7-25, table 3; fastest breath: Tang "
          "et al. (2013) PLoS ONE 8:e59970; the jet between them is derived"};
}

Disturbance body_plume(double distance, double room) {
  numerics::require_not_negative(distance, "distance from the body");
  numerics::require_positive(room, "temperature of the room");
  const double outside = std::max(0.0, distance - body_layer) / body_layer;
  const double share = std::exp(-outside * outside);
  const double speed = body_draught + (body_speed - body_draught) * share;
  const double excess = std::max(0.0, 0.3 * (hand_temperature - room)) * share;
  return {"body plume",
          {speed, 0.5 * speed, 1.3 * speed},
          {room + excess, room, room + 2.0 * excess},
          "up to 0.25 m/s in up to 50 mm beside a person: a public safety encyclopedia; the fall-off is "
          "a judgement"};
}

Disturbance hand_plume(double height, double room) {
  numerics::require_positive(height, "height over the hand");
  numerics::require_positive(room, "temperature of the room");
  WarmPatch hand;
  hand.width = hand_width;
  hand.height = hand_breadth;
  hand.excess = std::max(0.0, hand_temperature - room);
  hand.heat_flow = hand_film * hand_area * hand.excess;
  hand.room = room;
  const PlumeAir plume = patch_plume(hand, height, 0.0, 0.0);
  return {"hand plume",
          {plume.speed, 0.5 * plume.speed, 1.5 * plume.speed},
          {room + plume.temperature_excess, room, room + 2.0 * plume.temperature_excess},
          "plume of a hand's heat, 33 C, 0.04 m2, 4 W/(m2 K): judgement; plume law from memory"};
}

Disturbance room_draught(const Range& speed, double room) {
  numerics::require_positive(room, "temperature of the room");
  numerics::require_not_negative(speed.low, "lowest speed of the draught");
  numerics::require_not_negative(speed.nominal - speed.low, "speed of the draught over its lowest");
  numerics::require_not_negative(speed.high - speed.nominal, "highest speed of the draught over its speed");
  return {"room draught", speed, {room, room, room}, "room.draught.speed of the case"};
}

double signal_over(double signal, const Disturbance& disturbance) {
  numerics::require_not_negative(signal, "speed of the signal");
  numerics::require_not_negative(disturbance.speed.high, "speed of the disturber");
  return signal / std::max(disturbance.speed.high, least_disturbing_speed);
}

}  // namespace tuft::physics
