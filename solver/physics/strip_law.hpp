// One direction of flow through an opening whose head is the same all over: head against mass flux, the
// inverse, and the integrals that openings with a height need.
#pragma once

#include "solver/physics/face_law.hpp"

namespace tuft::physics {

/// Head [Pa] that a mass flux j >= 0 [kg/s/m2] costs in one direction (docs/theory.md, E2):
///
///     x(j) = alpha j + upstream T(j, o) + beta j^2 + early M(j, o) + late M(j, r o),      r = kLateOnset
///     M(j, o) = j (sqrt(j^2 + o^2) - o),      T(j, o) = j (1 - o/sqrt(j^2 + o^2))
///
/// Rises steadily from x(0) = 0 with the slope alpha; beyond the onset o its slope is that of the upstream
/// side's air.
struct StripLaw {
  double alpha = 0.0;     ///< viscous part at rest [Pa m2 s/kg], > 0
  double upstream = 0.0;  ///< what the upstream side's air adds to alpha [Pa m2 s/kg]; either sign
  double beta = 0.0;      ///< inertial from the start [Pa m4 s2/kg2], >= 0
  double early = 0.0;     ///< inertial from the onset on, >= 0
  double late = 0.0;      ///< inertial from kLateOnset times the onset on; either sign
  double onset = 0.0;     ///< o [kg/s/m2], >= 0
};

/// Flux under a head and how the head rises with it.
struct StripState {
  double flux = 0.0;
  double slope = 0.0;  ///< dx/dj, > 0
};

/// A quantity's partial derivatives by the parts of a StripLaw.
struct ByLaw {
  double alpha = 0.0;
  double upstream = 0.0;
  double inertia = 0.0;  ///< by the logarithm of a common factor on beta, early and late
  double onset = 0.0;    ///< by the logarithm of the onset
};

/// x(j) for j >= 0 [Pa].
double strip_head(const StripLaw& law, double flux);

/// dx/dj at j >= 0, > 0 where alpha is.
double strip_slope(const StripLaw& law, double flux);

/// Derivatives of x(j) at fixed j >= 0.
ByLaw strip_head_by_law(const StripLaw& law, double flux);

/// The flux under a head x >= 0 if all inertial parts acted from the start, as a first guess.
double early_flux(const StripLaw& law, double head);

/// The flux under a head x >= 0, by Halley's method to round-off; in closed form without early and late
/// parts.
double strip_flux(const StripLaw& law, double head);

/// Integral of j dx from x = 0 to x(j), and its derivatives at fixed j with the sign of the mean flux: what
/// an opening carries whose head falls linearly to nothing.
struct StripIntegral {
  double value = 0.0;
  ByLaw by;  ///< of the integral at a fixed head
};
StripIntegral strip_integral(const StripLaw& law, double flux);

/// The mean of j over the heads between x(j0) and x(j1), 0 <= j0 <= j1, written without cancellation, so that
/// j0 = j1 is no special case.
struct StripMean {
  double flux = 0.0;
  double secant = 0.0;   ///< (x(j1) - x(j0))/(j1 - j0)
  double by_span = 0.0;  ///< of the mean, by the distance of the two heads around a fixed middle, over that
                         ///< distance
  ByLaw by;
};
StripMean strip_mean(const StripLaw& law, double low_flux, double high_flux);

/// Air on one side of an opening, with what the laws of every opening there divide by.
struct SideState {
  SideState() = default;
  /// density [kg/m3] > 0, viscosity [Pa s] > 0
  SideState(double density_of_air, double viscosity_of_air)
      : density(density_of_air),
        viscosity(viscosity_of_air),
        specific_volume(1.0 / density_of_air),
        kinematic(viscosity_of_air * specific_volume) {}

  double density = 0.0;          ///< [kg/m3]
  double viscosity = 0.0;        ///< [Pa s]
  double specific_volume = 0.0;  ///< [m3/kg]
  double kinematic = 0.0;        ///< viscosity over density [m2/s]
};

/// The law of a face (E1) for the direction from `upstream` to `downstream`: at rest the viscous part has the
/// mean of both sides, beyond the onset the upstream side's air; the inertial part has always the latter.
StripLaw strip_law(const FaceLaw& law, const SideState& upstream, const SideState& downstream);

}  // namespace tuft::physics
