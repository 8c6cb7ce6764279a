#include "solver/physics/disturbers.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/jet.hpp"
#include "solver/physics/plume.hpp"

namespace tuft::instruments {

namespace {

using base::kPi;
constexpr double mouth_area = 120e-6;            // [m2]
constexpr double minute_volume = 8.8e-3 / 60.0;  // [m3/s]
constexpr double breath_temperature = 34.0 + base::kZeroCelsius;
constexpr double fastest_breath = 1.4, breath_reach = 0.8;
constexpr double body_speed = 0.25, body_layer = 0.05, body_draught = 0.02;
constexpr double hand_temperature = 33.0 + base::kZeroCelsius, hand_film = 4.0, hand_area = 0.04;
constexpr double hand_width = 0.18, hand_breadth = 0.09;

}  // namespace

Disturbance breath(double distance, double room) {
  base::require_positive(distance, "distance of the mouth");
  base::require_positive(room, "temperature of the room");
  const double peak = kPi * minute_volume / mouth_area;
  const double jet = grille_jet_constant * std::sqrt(mouth_area) * peak / distance;
  const double speed = std::min(jet, fastest_breath);
  // A jet's warmth falls off as its speed does (I6).
  const double excess = (breath_temperature - room) * std::min(1.0, 0.85 * jet / peak);
  Disturbance air;
  air.name = "breath";
  air.speed = {speed, distance > breath_reach ? 0.0 : 0.5 * speed, 1.5 * speed};
  air.temperature = {room + excess, room, std::max(room + excess, breath_temperature)};
  if (air.temperature.low > air.temperature.nominal) air.temperature.low = air.temperature.nominal;
  air.known = Known::Confirmed;
  air.source =
      "mouth opening, volume, temperature: Indoor Air 31 (2021) 7-25, table 3; fastest breath: Tang "
      "et al. (2013) PLoS ONE 8:e59970; the jet between them is derived";
  return air;
}

Disturbance body_plume(double distance, double room) {
  base::require_not_negative(distance, "distance from the body");
  base::require_positive(room, "temperature of the room");
  const double outside = std::max(0.0, distance - body_layer) / body_layer;
  const double share = std::exp(-outside * outside);
  const double speed = body_draught + (body_speed - body_draught) * share;
  Disturbance air;
  air.name = "body plume";
  air.speed = {speed, 0.5 * speed, 1.3 * speed};
  const double excess = std::max(0.0, 0.3 * (hand_temperature - room)) * share;
  air.temperature = {room + excess, room, room + 2.0 * excess};
  air.known = Known::Confirmed;
  air.source =
      "up to 0.25 m/s in up to 50 mm beside a person: a public safety encyclopedia; the fall-off is "
      "a judgement";
  return air;
}

Disturbance hand_plume(double height, double room) {
  base::require_positive(height, "height over the hand");
  base::require_positive(room, "temperature of the room");
  WarmPatch hand;
  hand.width = hand_width;
  hand.height = hand_breadth;
  hand.excess = std::max(0.0, hand_temperature - room);
  hand.heat_flow = hand_film * hand_area * hand.excess;
  hand.room = room;
  const PlumeAir plume = patch_plume(hand, height, 0.0, 0.0);
  Disturbance air;
  air.name = "hand plume";
  air.speed = {plume.speed, 0.5 * plume.speed, 1.5 * plume.speed};
  air.temperature = {room + plume.temperature_excess, room, room + 2.0 * plume.temperature_excess};
  air.known = Known::Judgement;
  air.source = "plume of a hand's heat, 33 C, 0.04 m2, 4 W/(m2 K): judgement; plume law from memory";
  return air;
}

Disturbance room_draught(double room) {
  base::require_positive(room, "temperature of the room");
  Disturbance air;
  air.name = "room draught";
  air.speed = {0.08, 0.03, 0.15};
  air.temperature = {room, room, room};
  air.known = Known::Judgement;
  air.source =
      "0.15 m/s is the upper end of still air by ASHRAE as quoted by an equipment maker; the rest is "
      "a judgement";
  return air;
}

double signal_over(double signal, const Disturbance& disturbance) {
  base::require_not_negative(signal, "speed of the signal");
  base::require_positive(disturbance.speed.high, "speed of the disturber");
  return signal / disturbance.speed.high;
}

}  // namespace tuft::instruments
