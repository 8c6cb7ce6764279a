#include "solver/elements/chimney.hpp"

#include <cmath>

#include "solver/elements/film_air.hpp"

namespace tuft::elements {

ChimneyNusselt chimney_nusselt(double elenbaas, ChimneyWalls walls) {
  // Written as El / (A + 2.873 El^1.5)^(1/2), which is fine at El = 0.
  const double developed = walls == ChimneyWalls::BothHeated ? 576.0 : 144.0;
  const double plate = 2.873 * elenbaas * std::sqrt(elenbaas);
  const double sum = developed + plate;
  const double root = std::sqrt(sum);
  return {elenbaas / root, (1.0 - 0.75 * plate / sum) / root};
}

double chimney_nusselt_uniform_flux(double elenbaas) {
  return 1.0 / std::sqrt(12.0 / elenbaas + 1.88 / std::pow(elenbaas, 0.4));
}

HeatFlux chimney_flux(const Chimney& chimney, const air::AirState& state, double wall, double room) {
  const double difference = wall - room;
  const FilmAir film = film_air(state, 0.5 * (wall + room));
  const double b2 = chimney.gap * chimney.gap;
  const double elenbaas = film.rayleigh * chimney.along * std::abs(difference) * b2 * b2 / chimney.height;
  const ChimneyNusselt nusselt = chimney_nusselt(elenbaas, chimney.walls);
  const double k = film.conductivity / chimney.gap;
  const double log_slope = nusselt.d_elenbaas * elenbaas;  // d Nu / d ln El
  const double by_difference = k * (nusselt.value + log_slope);
  const double by_film =
      difference * (film.d_conductivity / chimney.gap * nusselt.value + k * log_slope * film.d_log_rayleigh);
  return {k * nusselt.value * difference, by_difference + 0.5 * by_film, -by_difference + 0.5 * by_film};
}

double optimum_spacing(double height, double rayleigh) {
  return 2.714 * height / std::sqrt(std::sqrt(rayleigh));
}

}  // namespace tuft::elements
