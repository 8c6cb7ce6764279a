// The one form every passive element's loss takes, and the losses at the ends of ducts, holes and faces.
#pragma once

namespace tuft::physics {

/// Pressure drop of a passive element against the mean velocity on its face:
///
///     dp = viscous mu w + rho w |w| [inertial - early (1 - S(y)) - late (1 - S(r y))]     (docs/theory.md,
///     E1) w = m/(rho A),   y = onset mu/(rho |w|),   S(y) = sqrt(1 + y^2) - y,   r = kLateOnset
///
/// dp [Pa] positive in the direction of w [m/s]; mu dynamic viscosity [Pa s]; rho density [kg/m3]; A the face
/// area [m2]. `inertial` is half the loss coefficient on the face velocity at high Reynolds number. `early`
/// and `late` are the parts of it that slow flow does not have: S falls from 1 to 0 as the flow slows down.
/// All depend on geometry alone, so a law is made once and serves every density and temperature.
struct FaceLaw {
  double viscous = 0.0;   ///< [1/m], >= 0
  double inertial = 0.0;  ///< [-], >= 0
  double early = 0.0;     ///< part of `inertial` from the onset on [-], >= 0
  double late = 0.0;      ///< part of `inertial` from kLateOnset times the onset on [-]; either sign
  double onset = 0.0;     ///< rho |w|/mu at which half of `early` is there, about [1/m], >= 0
};

/// The second onset over the first [-]; judgement, with docs/theory.md, E6.
constexpr double kLateOnset = 200.0;

/// Two losses one behind the other on the same face. Where both set in late, their onsets are averaged.
constexpr FaceLaw in_series(const FaceLaw& a, const FaceLaw& b) {
  const double early = a.early + b.early;
  return {a.viscous + b.viscous, a.inertial + b.inertial, early, a.late + b.late,
          early > 0.0 ? (a.early * a.onset + b.early * b.onset) / early
                      : (a.onset > b.onset ? a.onset : b.onset)};
}

/// So many times the viscous part of a loss, and so many times its inertial part.
constexpr FaceLaw scaled(const FaceLaw& law, double viscous, double inertial) {
  return {viscous * law.viscous, inertial * law.inertial, inertial * law.early, inertial * law.late,
          law.onset};
}

/// So many times the loss, at every flow.
constexpr FaceLaw scaled(const FaceLaw& law, double factor) { return scaled(law, factor, factor); }

/// A law stated on a smaller area (through-area) restated on the face: w_small = w_face / area_ratio,
/// 0 < area_ratio = A_small / A_face.
constexpr FaceLaw on_face(const FaceLaw& law, double area_ratio) {
  const double squared = area_ratio * area_ratio;
  return {law.viscous / area_ratio, law.inertial / squared, law.early / squared, law.late / squared,
          law.onset * area_ratio};
}

/// dp/w [Pa s/m] of a law at a speed |w| > 0, with the air's density and viscosity.
double drop_per_speed(const FaceLaw& law, double speed, double density, double viscosity);

// Losses at the two ends of a duct, hole or face: entering, leaving, narrowing, widening, turning.

// Each is a loss coefficient K [-]: total-pressure loss over the velocity head 0.5 rho w^2 at the place
// named.

/// Entry into a duct mouth or face set flush in a wall, on the velocity behind the mouth: 0.49, ACGIH,
/// "Industrial Ventilation", 24th ed. (2001), fig. 3-16, flanged opening. Five handbooks quoted by the
/// fluids library (Debian python3-fluids) give 0.50 to 0.57.
constexpr double flush_entry_loss = 0.49;

/// A jet leaving into a large space loses its whole velocity head (exact for a flat profile).
constexpr double exit_loss = 1.0;

/// One right-angle turn without vanes, on the velocity in the duct: 1.15. Mitre bends of a 0.1 m pipe at Re
/// 1e5 are 0.98 (Crane), 1.18 (Miller), 1.20 (Rennels), 1.26 (Blevins) as evaluated by python3-fluids; the
/// value for the flat passages of a chassis is a judgement within these.
constexpr double right_angle_loss = 1.15;

/// Sudden widening from area a to b, `area_ratio` = a/b in (0, 1], on the velocity in a: (1 - a/b)^2
/// (Borda-Carnot; from the momentum balance).
constexpr double widening_loss(double area_ratio) { return (1.0 - area_ratio) * (1.0 - area_ratio); }

/// Sudden narrowing into `area_ratio` = small/large in (0, 1], on the velocity in the small duct:
/// 0.5 (1 - small/large), the entry term of Blevins (1984), "Applied Fluid Dynamics Handbook", grille formula
/// as transcribed in python3-fluids.
constexpr double narrowing_loss(double area_ratio) { return 0.5 * (1.0 - area_ratio); }

/// Share [0..1] of a hole's sharp-edged contraction that is not undone inside the hole: 1 for a thin sheet,
/// 0 for a long hole, in which the jet touches the wall again and fills it. A smooth fit,
/// 1 / (1 + (t/d / 0.68)^4), to the factor tau(t/d) of Idelchik, "Handbook of Hydraulic Resistance", entry
/// into a thick-edged orifice (formula from memory; tests/physics/sharp_opening_test.cpp shows the distance).
constexpr double free_jet_share(double thickness_over_hole) {
  const double x = thickness_over_hole / 0.68;
  return 1.0 / (1.0 + x * x * x * x);
}

}  // namespace tuft::physics
