#include "solver/physics/thermometry.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <stdexcept>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

using numerics::kDeviations95;
constexpr double wire_emissivity = 0.5;

void require_spot(const InfraredSpot& spot) {
  numerics::require_within(spot.set_emissivity, 0.0, 1.0, "emissivity the instrument is set to");
  numerics::require_positive(spot.set_reflected, "reflected temperature the instrument is set to");
  numerics::require_positive(spot.distance_ratio, "ratio of distance to spot");
  numerics::require_positive(spot.smallest_spot, "smallest spot");
  numerics::require_not_negative(spot.absolute_error, "absolute error of the instrument");
  numerics::require_not_negative(spot.relative_error, "relative error of the instrument");
}

void require_target(const SpotTarget& target) {
  numerics::require_positive(target.temperature, "temperature of the target");
  numerics::require_within(target.emissivity.low, 0.0, target.emissivity.nominal,
                           "lower emissivity of the target");
  numerics::require_within(target.emissivity.high, 0.0, 1.0, "upper emissivity of the target");
  numerics::require_within(target.emissivity.nominal, 0.0, target.emissivity.high,
                           "emissivity of the target");
  numerics::require_positive(target.reflected, "reflected temperature");
  numerics::require_positive(target.air, "temperature of the air between");
  numerics::require_within(target.transmittance, 0.0, 1.0, "transmittance of the air between");
  numerics::require_positive(target.distance, "distance of the target");
  numerics::require_positive(target.diameter, "diameter of the target");
}

/// The reason for a refusal that needs no radiometry; empty if there is none.
std::string refusal(const InfraredSpot& spot, const SpotTarget& target) {
  if (target.glass_between)
    return "there is glass between: glass is opaque from 8 to 14 um, the reading would be that of the glass";
  char text[200];
  if (target.emissivity.nominal < least_emissivity) {
    std::snprintf(text, sizeof text,
                  "the surface has an emissivity of %.2f: a shiny face mirrors the room and hides its own "
                  "warmth; stick matt tape or paper on it and wait",
                  target.emissivity.nominal);
    return text;
  }
  const double diameter = spot_diameter(spot, target.distance);
  if (diameter > target.diameter) {
    std::snprintf(text, sizeof text,
                  "the spot of %.0f mm is larger than the target of %.0f mm: go nearer, to %.0f mm or less",
                  1e3 * diameter, 1e3 * target.diameter,
                  1e3 * std::max(0.0, target.diameter * spot.distance_ratio));
    if (spot.smallest_spot > target.diameter)
      std::snprintf(text, sizeof text,
                    "the spot of %.0f mm is larger than the target of %.0f mm, from any distance",
                    1e3 * diameter, 1e3 * target.diameter);
    return text;
  }
  return "";
}

void require_couple(const Thermocouple& couple) {
  numerics::require_positive(couple.wire, "diameter of the wire");
  numerics::require_positive(couple.conductivity, "conductivity of the wire");
  numerics::require_positive(couple.taped, "length of wire under the tape");
  for (const Range& range : {couple.contact, couple.film}) {
    numerics::require_positive(range.low, "lower contact or film of the thermocouple");
    numerics::require_within(range.nominal, 0.0, range.high, "contact or film of the thermocouple");
  }
  numerics::require_not_negative(couple.absolute_error, "error of the thermocouple");
}

double error_share(const Thermocouple& couple, double contact, double nusselt, double surface_conductivity,
                   double air_temperature) {
  const double d = couple.wire;
  const double along = couple.conductivity * 0.25 * numerics::kPi * d * d;  // [W m/K]
  const double in_air = numerics::kPi * nusselt * physics::conductivity(air_temperature);
  const double under_tape = 1.0 / (1.0 / (contact * d) + 1.0 / surface_conductivity);
  const double reach = std::sqrt(under_tape / along) * couple.taped;
  const double lost = std::sqrt(in_air * along);
  return lost / (lost + std::sqrt(under_tape * along) * std::tanh(reach)) / std::cosh(reach);
}

}  // namespace

const char* const infrared_caution =
    "An infrared reading is the temperature of a surface. It never shows the air or which way it goes.";

double spot_diameter(const InfraredSpot& spot, double distance) {
  require_spot(spot);
  numerics::require_positive(distance, "distance of the target");
  return std::max(spot.smallest_spot, distance / spot.distance_ratio);
}

double radiance_seen(Band band, const SpotTarget& target, double emissivity) {
  require_target(target);
  numerics::require_within(emissivity, 0.0, 1.0, "emissivity of the target");
  const double tau = target.transmittance;
  return emissivity * tau * black_body(band, target.temperature) +
         (1.0 - emissivity) * tau * black_body(band, target.reflected) +
         (1.0 - tau) * black_body(band, target.air);
}

double displayed_temperature(const InfraredSpot& spot, double flux) {
  require_spot(spot);
  const double reflected = black_body(spot.band, spot.set_reflected);
  return black_body_temperature(spot.band,
                                (flux - (1.0 - spot.set_emissivity) * reflected) / spot.set_emissivity);
}

SpotReading read_spot(const InfraredSpot& spot, const SpotTarget& target) {
  require_spot(spot);
  require_target(target);
  SpotReading result;
  result.spot = spot_diameter(spot, target.distance);
  result.reason = refusal(spot, target);
  result.refused = !result.reason.empty();
  if (result.refused) return result;
  const auto shown = [&](double emissivity) {
    return displayed_temperature(spot, radiance_seen(spot.band, target, emissivity));
  };
  try {
    result.reading.mean = shown(target.emissivity.nominal);
    const double by_emissivity = 0.25 * (shown(target.emissivity.high) - shown(target.emissivity.low));
    const double relative = spot.relative_error * std::abs(result.reading.mean - numerics::kZeroCelsius);
    const double own = std::max(spot.absolute_error, relative) / kDeviations95;
    result.reading.deviation = std::hypot(own, by_emissivity);
  } catch (const std::invalid_argument&) {
    result.refused = true;
    result.reason = "no temperature belongs to the radiation with this emissivity and reflected temperature";
    result.reading = Reading{};
    result.reading.detection = 0.0;
  }
  return result;
}

Range contact_error(const Thermocouple& couple, double surface_conductivity, double air_temperature) {
  require_couple(couple);
  numerics::require_positive(surface_conductivity, "conductivity of the surface");
  numerics::require_positive(air_temperature, "temperature of the air");
  const auto share = [&](double contact, double film) {
    return error_share(couple, contact, film, surface_conductivity, air_temperature);
  };
  return {share(couple.contact.nominal, couple.film.nominal), share(couple.contact.high, couple.film.low),
          share(couple.contact.low, couple.film.high)};
}

Reading read_contact(const Thermocouple& couple, double surface_temperature, double surface_conductivity,
                     double air_temperature) {
  numerics::require_positive(surface_temperature, "temperature of the surface");
  const Range error = contact_error(couple, surface_conductivity, air_temperature);
  const double difference = surface_temperature - air_temperature;
  return {surface_temperature - error.nominal * difference,
          std::hypot(couple.absolute_error / kDeviations95, error.deviation() * difference)};
}

Reading read_air(const Thermocouple& couple, const AirState& state, double air_temperature,
                 double surroundings, double speed) {
  require_couple(couple);
  numerics::require_positive(air_temperature, "temperature of the air");
  numerics::require_positive(surroundings, "temperature of the surroundings");
  numerics::require_not_negative(speed, "speed of the air");
  const double density = physics::density(state, air_temperature);
  const double reynolds = density * speed * couple.wire / viscosity(air_temperature);
  const double prandtl = physics::prandtl(air_temperature);
  const double nusselt = 0.42 * std::pow(prandtl, 0.2) + 0.57 * std::cbrt(prandtl) * std::sqrt(reynolds);
  const double film = nusselt * physics::conductivity(air_temperature) / couple.wire;
  const double mean = 0.5 * (air_temperature + surroundings);
  const double radiation = 4.0 * wire_emissivity * stefan_boltzmann * mean * mean * mean;
  const double pull = radiation / (radiation + film);
  Reading reading;
  reading.mean = air_temperature + pull * (surroundings - air_temperature);
  // The radiative pull is known to a factor of 2.
  reading.deviation =
      std::hypot(couple.absolute_error / kDeviations95, 0.5 * pull * (surroundings - air_temperature));
  return reading;
}

}  // namespace tuft::physics
