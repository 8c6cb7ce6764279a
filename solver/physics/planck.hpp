// What a black surface radiates, all of it or in the band a thermal camera sees.
#pragma once

namespace tuft::instruments {

enum class Band {
  Total,    ///< all wavelengths: sigma T^4
  LongWave  ///< 8 to 14 um
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

}  // namespace tuft::instruments
