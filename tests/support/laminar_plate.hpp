// The published law of a standing plate in laminar air alone, to compare our laws with.
#pragma once

#include <cmath>

namespace tuft::test {

/// Mean Nu on the height of an isothermal plate that stands, 0.1 < Ra < 1e9:
/// 0.68 + 0.670 Ra^(1/4) / [1 + (0.492/Pr)^(9/16)]^(4/9). Churchill S.W., Chu H.H.S. (1975) Int. J. Heat Mass
/// Transfer 18:1323-1329, as transcribed in the ASHRAE Handbook - Fundamentals, ch. 4 (T9.2).
inline double laminar_plate(double rayleigh, double prandtl) {
  return 0.68 +
         0.670 * std::pow(rayleigh, 0.25) / std::pow(1.0 + std::pow(0.492 / prandtl, 9.0 / 16.0), 4.0 / 9.0);
}

}  // namespace tuft::test
