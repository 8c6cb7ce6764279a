#include "solver/physics/radiation.hpp"

#include <cmath>
#include <stdexcept>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

// h c/k: 6.62607015e-34 J s, 299792458 m/s, 1.380649e-23 J/K, all exact.
constexpr double second_radiation_constant = 6.62607015e-34 * 299792458.0 / 1.380649e-23;
constexpr double band_from = 8e-6, band_to = 14e-6;
constexpr double coldest = 100.0, hottest = 3000.0;

}  // namespace

numerics::Sloped grey_flux(double emissivity, double surface, double surroundings) {
  const numerics::Sloped s(surface, 1.0, 0.0), r(surroundings, 0.0, 1.0);
  // As a product, so that a small difference keeps its digits.
  return emissivity * stefan_boltzmann * (s * s + r * r) * (s + r) * (s - r);
}

double exchange_emissivity(double emissivity_a, double emissivity_b) {
  numerics::require_within(emissivity_a, 0.0, 1.0, "emissivity");
  numerics::require_within(emissivity_b, 0.0, 1.0, "emissivity");
  return 1.0 / (1.0 / emissivity_a + 1.0 / emissivity_b - 1.0);
}

double black_body_share(double wavelength_temperature) {
  numerics::require_positive(wavelength_temperature, "wavelength times temperature");
  const double z = second_radiation_constant / wavelength_temperature;
  double sum = 0.0;
  // The terms fall at least as 6/n^4, and as e^(-n z) once n z is large.
  for (int n = 1; n <= 2000; ++n) {
    const double m = n;
    const double term =
        std::exp(-m * z) * (z * z * z + 3.0 * z * z / m + 6.0 * z / (m * m) + 6.0 / (m * m * m)) / m;
    sum += term;
    if (term < 1e-16 * sum) break;
  }
  return 15.0 / std::pow(numerics::kPi, 4) * sum;
}

double black_body(Band band, double temperature) {
  numerics::require_positive(temperature, "temperature of a black body");
  const double total = stefan_boltzmann * std::pow(temperature, 4);
  if (band == Band::total) return total;
  return total * (black_body_share(band_to * temperature) - black_body_share(band_from * temperature));
}

double black_body_temperature(Band band, double flux) {
  numerics::require_positive(flux, "radiant flux");
  double low = coldest, high = hottest;
  if (flux < black_body(band, low) || flux > black_body(band, high))
    throw std::invalid_argument("radiant flux: belongs to no temperature from 100 to 3000 K");
  // The flux rises steadily with temperature: the secant kept inside the bracket, else its middle.
  double temperature = 0.5 * (low + high);
  for (int i = 0; i < 200 && high - low > 1e-10 * high; ++i) {
    const double value = black_body(band, temperature) - flux;
    (value > 0.0 ? high : low) = temperature;
    const double step = 1e-4 * temperature;
    const double slope =
        (black_body(band, temperature + step) - black_body(band, temperature - step)) / (2.0 * step);
    const double newton = temperature - value / slope;
    if (std::abs(newton - temperature) < 1e-11 * temperature) return newton;
    temperature = newton > low && newton < high ? newton : 0.5 * (low + high);
  }
  return temperature;
}

}  // namespace tuft::physics
