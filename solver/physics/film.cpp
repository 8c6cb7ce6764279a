#include "solver/physics/film.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {

namespace {

using numerics::kPi;

/// Nu = factor Ra^exponent.
struct Power {
  double factor;
  double exponent;
};

Nusselt power_law(const Power& law, double rayleigh) {
  const double value = law.factor * std::pow(rayleigh, law.exponent);
  return {value, law.exponent * value, 0.0};
}

/// One power law below `low`, the next above `high`, both > 0; between them a smooth step in ln Ra.
Nusselt blended(const Power& below, const Power& above, double low, double high, double rayleigh) {
  if (rayleigh <= low) return power_law(below, rayleigh);
  if (rayleigh >= high) return power_law(above, rayleigh);
  const double log_rayleigh = std::log(rayleigh);
  const double width = std::log(high / low);
  const double s = std::log(rayleigh / low) / width;
  const double share = s * s * (3.0 - 2.0 * s);
  const double share_slope = 6.0 * s * (1.0 - s) / width;
  const double log_below = std::log(below.factor) + below.exponent * log_rayleigh;
  const double log_above = std::log(above.factor) + above.exponent * log_rayleigh;
  const double value = std::exp((1.0 - share) * log_below + share * log_above);
  const double slope = (1.0 - share) * below.exponent + share * above.exponent;
  return {value, value * (slope + share_slope * (log_above - log_below)), 0.0};
}

/// (0.492/Pr)^(9/16).
double prandtl_term(double prandtl) { return std::pow(0.492 / prandtl, 9.0 / 16.0); }

/// Rayleigh number at which the vertical law, whose constant at rest is that of an endless plate, is half on.
constexpr double kOnset = 10.0;

/// 0 below 0, 1 above 1, with a continuous slope.
double smooth_step(double s) {
  if (s <= 0.0) return 0.0;
  if (s >= 1.0) return 1.0;
  return s * s * (3.0 - 2.0 * s);
}

double power5(double x) { return x * x * x * x * x; }

/// h/k [1/m] with the derivatives by the logarithm of the temperature difference and by film temperature.
struct Shape {
  double value;
  double d_log_difference;
  double d_film;
};

Shape shape(const FilmLaw& law, const FilmAir& film, double difference) {
  const double drive = film.rayleigh * std::abs(difference);
  const double standing_rayleigh = drive * law.along * law.height * law.height * law.height;
  const Nusselt standing = vertical_plate(standing_rayleigh, film.prandtl);
  const double onset = standing_rayleigh / (standing_rayleigh + kOnset);
  const double horizontal_rayleigh = drive * law.side * law.side * law.side;
  const bool free_to_rise = (difference > 0.0) == law.faces_up;
  const Nusselt lying =
      free_to_rise ? face_up_plate(horizontal_rayleigh) : face_down_plate(horizontal_rayleigh);
  const double weight = difference > 0.0 ? law.horizontal_if_hot : law.horizontal_if_cold;

  const double v = standing.value / law.height;
  const double u = lying.value / law.side;
  const double v5 = (1.0 - weight) * onset * power5(v);
  const double u5 = weight * power5(u);
  const double sum = law.still * power5(law.still) + v5 * v + u5 * u;
  Shape out{};
  out.value = std::pow(sum, 1.0 / 6.0);
  const double scale = out.value / sum;  // d sum^(1/6) = scale d(sum)/6
  out.d_log_difference = scale * (v5 * (standing.d_log_rayleigh / law.height + (1.0 - onset) * v / 6.0) +
                                  u5 * lying.d_log_rayleigh / law.side);
  out.d_film = out.d_log_difference * film.d_log_rayleigh +
               scale * v5 * standing.d_prandtl / law.height * film.d_prandtl;
  return out;
}

constexpr double kSlotJet = 5.0;           // K of zone 2
constexpr double kStrip = 0.02;            // [m]
constexpr double kScreenEmissivity = 0.9;  // [-]

}  // namespace

Nusselt vertical_plate(double rayleigh, double prandtl) {
  const double y = prandtl_term(prandtl);
  const double rise = 0.387 * std::pow(rayleigh, 1.0 / 6.0) / std::pow(1.0 + y, 8.0 / 27.0);
  const double root = 0.825 + rise;
  const double rise_by_prandtl = rise * y / (6.0 * (1.0 + y) * prandtl);
  return {root * root, 2.0 * root * rise / 6.0, 2.0 * root * rise_by_prandtl};
}

Nusselt face_up_plate(double rayleigh) {
  constexpr Power creeping{0.96, 1.0 / 6.0};
  constexpr Power small{0.59, 0.25};
  constexpr Power laminar{0.54, 0.25};
  constexpr Power turbulent{0.15, 1.0 / 3.0};
  if (rayleigh < 2e3) return blended(creeping, small, 100.0, 400.0, rayleigh);
  if (rayleigh < 1e5) return blended(small, laminar, 1e4, 2.2e4, rayleigh);
  return blended(laminar, turbulent, 4e6, 1.6e7, rayleigh);
}

Nusselt face_down_plate(double rayleigh) { return power_law({0.27, 0.25}, rayleigh); }

double forced_plate(double reynolds, double prandtl) {
  return 0.664 * std::sqrt(reynolds) * std::cbrt(prandtl);
}

FilmAir film_air(const physics::AirState& state, double film_temperature) {
  const double t = film_temperature;
  const double density = physics::density(state, t);
  const double viscosity = physics::viscosity(t);
  const double specific_heat = physics::specific_heat(t);
  FilmAir out;
  out.conductivity = physics::conductivity(t);
  out.d_conductivity = physics::conductivity_slope(t);
  out.prandtl = viscosity * specific_heat / out.conductivity;
  const double log_viscosity = physics::viscosity_slope(t) / viscosity;
  const double log_specific_heat = physics::specific_heat_slope(t) / specific_heat;
  const double log_conductivity = out.d_conductivity / out.conductivity;
  out.d_prandtl = out.prandtl * (log_viscosity + log_specific_heat - log_conductivity);
  // g beta / (nu alpha) = g rho^2 cp / (T mu k); rho falls as 1/T.
  out.rayleigh =
      physics::standard_gravity * density * density * specific_heat / (t * viscosity * out.conductivity);
  out.d_log_rayleigh = -3.0 / t + log_specific_heat - log_viscosity - log_conductivity;
  out.reynolds = density / viscosity;
  out.d_log_reynolds = -1.0 / t - log_viscosity;
  return out;
}

double still_air_conductance(double width, double height) {
  double a = numerics::require_positive(width, "width");
  double g = numerics::require_positive(height, "height");
  const double area = a * g;
  while (std::abs(a - g) > 1e-15 * a) {  // quadratic: six rounds even at 1000 : 1
    const double mean = 0.5 * (a + g);
    const double root = std::sqrt(a * g);
    if (mean == a || root == g) break;
    a = mean;
    g = root;
  }
  return 4.0 * 0.5 * (a + g) / (std::sqrt(kPi) * area);
}

FilmLaw film_law(const Patch& patch) {
  numerics::require_within(patch.tilt, -1e-12, kPi + 1e-12, "tilt");
  FilmLaw law;
  law.still = still_air_conductance(patch.width, patch.height);
  law.height = patch.height;
  law.side = 0.5 * patch.width * patch.height / (patch.width + patch.height);
  law.along = std::abs(std::sin(patch.tilt));
  law.faces_up = patch.tilt < 0.5 * kPi;
  const double off_vertical = std::abs(patch.tilt - 0.5 * kPi);
  const double rising = smooth_step(off_vertical / (0.5 * kPi));
  const double held = smooth_step((off_vertical - kPi / 3.0) / (kPi / 6.0));
  law.horizontal_if_hot = law.faces_up ? rising : held;
  law.horizontal_if_cold = law.faces_up ? held : rising;
  return law;
}

HeatFlux film_flux(const FilmLaw& law, const physics::AirState& state, double surface, double room) {
  const double difference = surface - room;
  const FilmAir film = film_air(state, 0.5 * (surface + room));
  const Shape s = shape(law, film, difference);
  const double coefficient = film.conductivity * s.value;
  const double by_difference = coefficient + film.conductivity * s.d_log_difference;
  const double by_film = difference * (film.d_conductivity * s.value + film.conductivity * s.d_film);
  return {coefficient * difference, by_difference + 0.5 * by_film, -by_difference + 0.5 * by_film};
}

HeatFlux forced_flux(double width, double length, const physics::AirState& state, double speed,
                     double surface, double room) {
  const double difference = surface - room;
  const FilmAir film = film_air(state, 0.5 * (surface + room));
  const double still = still_air_conductance(width, length);
  // (forced h/k)^2 is proportional to speed.
  const double unit = forced_plate(film.reynolds * length, film.prandtl) / length;
  const double forced2 = unit * unit * speed;
  const double forced2_by_film = forced2 * (film.d_log_reynolds + 2.0 / 3.0 * film.d_prandtl / film.prandtl);
  const double value = std::sqrt(forced2 + still * still);
  const double coefficient = film.conductivity * value;
  const double by_film =
      difference * (film.d_conductivity * value + film.conductivity * 0.5 * forced2_by_film / value);
  return {coefficient * difference, coefficient + 0.5 * by_film, -coefficient + 0.5 * by_film};
}

LidEdge lid_edge(const SlotJet& jet, const physics::AirState& state, double room) {
  if (!(jet.width > 0.0 && jet.height > 0.0 && jet.distance > 0.0 && jet.speed >= 0.0))
    throw std::invalid_argument("a slot jet needs a size, a distance and a speed that is not negative");
  const double kept = std::min(1.0, std::sqrt(kSlotJet * jet.height / jet.distance));
  LidEdge edge;
  edge.air_temperature = room + kept * (jet.temperature - room);
  const FilmLaw back = film_law({jet.width, kStrip, 0.5 * kPi});
  // The heat gained falls as the strip gets warmer, so bisection between room and jet finds the balance.
  double low = std::min(room, edge.air_temperature);
  double high = std::max(room, edge.air_temperature);
  for (int i = 0; i < 60; ++i) {
    const double strip = 0.5 * (low + high);
    const double lost =
        forced_flux(jet.width, kStrip, state, kept * jet.speed, strip, edge.air_temperature).value +
        film_flux(back, state, strip, room).value + 2.0 * grey_flux(kScreenEmissivity, strip, room).value;
    (lost > 0.0 ? high : low) = strip;
  }
  edge.temperature = 0.5 * (low + high);
  return edge;
}

}  // namespace tuft::physics
