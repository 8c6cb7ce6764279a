#include "solver/physics/film.hpp"

#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/physics/film_air.hpp"
#include "solver/physics/plate_nusselt.hpp"

namespace tuft::elements {
namespace {

using base::kPi;
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

}  // namespace

double still_air_conductance(double width, double height) {
  double a = base::require_positive(width, "width");
  double g = base::require_positive(height, "height");
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
  base::require_within(patch.tilt, -1e-12, kPi + 1e-12, "tilt");
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

HeatFlux film_flux(const FilmLaw& law, const air::AirState& state, double surface, double room) {
  const double difference = surface - room;
  const FilmAir film = film_air(state, 0.5 * (surface + room));
  const Shape s = shape(law, film, difference);
  const double coefficient = film.conductivity * s.value;
  const double by_difference = coefficient + film.conductivity * s.d_log_difference;
  const double by_film = difference * (film.d_conductivity * s.value + film.conductivity * s.d_film);
  return {coefficient * difference, by_difference + 0.5 * by_film, -by_difference + 0.5 * by_film};
}

HeatFlux forced_flux(double width, double length, const air::AirState& state, double speed, double surface,
                     double room) {
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

}  // namespace tuft::elements
