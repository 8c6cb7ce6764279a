// The one form every passive element's loss takes.
#pragma once

namespace tuft::elements {

/// Pressure drop of a passive element against the mean velocity on its face:
///
///     dp = viscous mu w + inertial rho w |w|,      w = m / (rho A)          (docs/theory.md, E1)
///
/// dp [Pa] positive in the direction of w [m/s]; mu dynamic viscosity [Pa s]; rho density [kg/m3]; A the face
/// area [m2]. `inertial` is half the loss coefficient on the face velocity. Both depend on geometry alone, so
/// a law is made once and serves every density and temperature.
struct FaceLaw {
  double viscous = 0.0;   ///< [1/m], >= 0
  double inertial = 0.0;  ///< [-], >= 0
};

/// Two losses one behind the other on the same face.
constexpr FaceLaw in_series(const FaceLaw& a, const FaceLaw& b) {
  return {a.viscous + b.viscous, a.inertial + b.inertial};
}

/// A law stated on a smaller area (through-area) restated on the face: w_small = w_face / area_ratio,
/// 0 < area_ratio = A_small / A_face.
constexpr FaceLaw on_face(const FaceLaw& law, double area_ratio) {
  return {law.viscous / area_ratio, law.inertial / (area_ratio * area_ratio)};
}

}  // namespace tuft::elements
