#include "solver/physics/plate_nusselt.hpp"

#include <cmath>

namespace tuft::elements {
namespace {

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

}  // namespace tuft::elements
