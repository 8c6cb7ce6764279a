#include "solver/physics/film.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

using numerics::kPi;
using numerics::Sloped;

/// Nu = factor Ra^exponent.
struct Power {
  double factor;
  double exponent;
};

Sloped power_law(const Power& law, const Sloped& rayleigh) {
  return law.factor * pow(rayleigh, law.exponent);
}

/// One power law below `low`, the next above `high`, both > 0; between them a smooth step in ln Ra.
Sloped blended(const Power& below, const Power& above, double low, double high, const Sloped& rayleigh) {
  if (rayleigh.value <= low) return power_law(below, rayleigh);
  if (rayleigh.value >= high) return power_law(above, rayleigh);
  const Sloped log_rayleigh = log(rayleigh);
  const Sloped s = log(rayleigh / low) / std::log(high / low);
  const Sloped share = s * s * (3.0 - 2.0 * s);
  const Sloped log_below = std::log(below.factor) + below.exponent * log_rayleigh;
  const Sloped log_above = std::log(above.factor) + above.exponent * log_rayleigh;
  return exp((1.0 - share) * log_below + share * log_above);
}

/// Rayleigh number at which the vertical law, whose constant at rest is that of an endless plate, is half on.
constexpr double kOnset = 10.0;

/// 0 below 0, 1 above 1, with a continuous slope.
double smooth_step(double s) {
  if (s <= 0.0) return 0.0;
  if (s >= 1.0) return 1.0;
  return s * s * (3.0 - 2.0 * s);
}

template <typename T>
T power5(const T& x) {
  return x * x * x * x * x;
}

/// h/k [1/m].
Sloped shape(const FilmLaw& law, const FilmAir& film, const Sloped& difference) {
  const Sloped drive = film.rayleigh * abs(difference);
  const Sloped standing_rayleigh = drive * law.along * law.height * law.height * law.height;
  const Sloped v = vertical_plate(standing_rayleigh, film.prandtl) / law.height;
  const Sloped onset = standing_rayleigh / (standing_rayleigh + kOnset);
  const Sloped lying_rayleigh = drive * law.side * law.side * law.side;
  const bool free_to_rise = (difference.value > 0.0) == law.faces_up;
  const Sloped u =
      (free_to_rise ? face_up_plate(lying_rayleigh) : face_down_plate(lying_rayleigh)) / law.side;
  const double weight = difference.value > 0.0 ? law.horizontal_if_hot : law.horizontal_if_cold;
  return pow(law.still * power5(law.still) + (1.0 - weight) * onset * power5(v) * v + weight * power5(u) * u,
             1.0 / 6.0);
}

constexpr double kSlotJet = 5.0;           // K of zone 2
constexpr double kStrip = 0.02;            // [m]
constexpr double kScreenEmissivity = 0.9;  // [-]

}  // namespace

Sloped vertical_plate(const Sloped& rayleigh, const Sloped& prandtl) {
  const Sloped y = pow(0.492 / prandtl, 9.0 / 16.0);
  const Sloped root = 0.825 + 0.387 * pow(rayleigh, 1.0 / 6.0) / pow(1.0 + y, 8.0 / 27.0);
  return root * root;
}

Sloped face_up_plate(const Sloped& rayleigh) {
  constexpr Power creeping{0.96, 1.0 / 6.0};
  constexpr Power small{0.59, 0.25};
  constexpr Power laminar{0.54, 0.25};
  constexpr Power turbulent{0.15, 1.0 / 3.0};
  if (rayleigh.value < 2e3) return blended(creeping, small, 100.0, 400.0, rayleigh);
  if (rayleigh.value < 1e5) return blended(small, laminar, 1e4, 2.2e4, rayleigh);
  return blended(laminar, turbulent, 4e6, 1.6e7, rayleigh);
}

Sloped face_down_plate(const Sloped& rayleigh) { return power_law({0.27, 0.25}, rayleigh); }

Sloped forced_plate(const Sloped& reynolds, const Sloped& prandtl) {
  return 0.664 * sqrt(reynolds) * cbrt(prandtl);
}

FilmAir film_air(const AirState& state, const Sloped& film_temperature) {
  const Sloped density = physics::density(state, film_temperature);
  const Sloped viscosity = physics::viscosity(film_temperature);
  const Sloped specific_heat = physics::specific_heat(film_temperature);
  FilmAir out;
  out.conductivity = physics::conductivity(film_temperature);
  out.prandtl = viscosity * specific_heat / out.conductivity;
  // g beta / (nu alpha) = g rho^2 cp / (T mu k).
  out.rayleigh = standard_gravity * density * density * specific_heat /
                 (film_temperature * viscosity * out.conductivity);
  out.reynolds = density / viscosity;
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

Sloped film_flux(const FilmLaw& law, const AirState& state, double surface, double room) {
  const Sloped difference(surface - room, 1.0, -1.0);
  const FilmAir film = film_air(state, {0.5 * (surface + room), 0.5, 0.5});
  return film.conductivity * shape(law, film, difference) * difference;
}

Sloped forced_flux(double width, double length, const AirState& state, double speed, double surface,
                   double room) {
  const Sloped difference(surface - room, 1.0, -1.0);
  const FilmAir film = film_air(state, {0.5 * (surface + room), 0.5, 0.5});
  const double still = still_air_conductance(width, length);
  // (forced h/k)^2 is proportional to speed.
  const Sloped unit = forced_plate(film.reynolds * length, film.prandtl) / length;
  return film.conductivity * sqrt(unit * unit * speed + still * still) * difference;
}

LidEdge lid_edge(const SlotJet& jet, const AirState& state, double room) {
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
