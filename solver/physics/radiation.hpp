// What a surface radiates: a grey one to what it sees, a black one in all or in the band of a thermal camera.
#pragma once

#include "solver/numerics/sloped.hpp"

namespace tuft::physics {

/// Stefan-Boltzmann constant [W/(m2 K4)], 2 pi^5 k^4 / (15 h^3 c^2) of the exact constants of the SI of 2019.
constexpr double stefan_boltzmann = 5.670374419e-8;

/// Net flux of a grey surface of an emissivity 0 .. 1 at `surface` [K] that sees nothing but surroundings at
/// `surroundings` [K], much larger than itself (or black): eps sigma (T_s^4 - T_r^4) [W/m2], positive away
/// from the surface, with its slopes by the two temperatures.
numerics::Sloped grey_flux(double emissivity, double surface, double surroundings);

/// Emissivity to be used in `grey_flux` between two grey patches that see only each other, close and
/// parallel: 1 / (1/eps_1 + 1/eps_2 - 1). Both 0 < eps <= 1, throws std::invalid_argument otherwise.
double exchange_emissivity(double emissivity_a, double emissivity_b);

enum class Band {
  total,     ///< all wavelengths: sigma T^4
  long_wave  ///< 8 to 14 um
};

/// Share of a black body's radiation at wavelengths below lambda, of x = lambda T [m K] > 0: with z = c2/x,
///
///     F = (15/pi^4) * sum over n of e^(-n z) (z^3 + 3 z^2/n + 6 z/n^2 + 6/n^3)/n    (docs/theory.md, I17)
///
/// Planck's law integrated term by term (derived); c2 = h c/k of the exact constants of the SI of 2019.
double black_body_share(double wavelength_temperature);

/// Radiant flux [W/m2] of a black surface at a temperature [K] > 0 within the band.
double black_body(Band band, double temperature);

/// Temperature [K] at which a black surface radiates a flux [W/m2] > 0 within the band; the inverse. Throws
/// outside 100 .. 3000 K.
double black_body_temperature(Band band, double flux);

}  // namespace tuft::physics
