// Laminar flow in a rectangular duct: friction and developing length.
#pragma once

namespace tuft::elements {

/// Reynolds number on the hydraulic diameter up to which flow in ducts is taken as laminar [-]; the
/// textbooks' round figure, from memory.
constexpr double kDuctLaminar = 2300.0;

/// Fanning friction factor times Reynolds number [-] of fully developed laminar flow, both on the hydraulic
/// diameter, `aspect` = short/long side in [0, 1]: 24 (1 - 1.3553 a + 1.9467 a^2 - 1.7012 a^3 + 0.9564 a^4
/// - 0.2537 a^5). Fit of Shah & London, "Laminar Flow Forced Convection in Ducts", Academic Press 1978, as
/// transcribed in public code; 24 between plates, 14.23 in a square, within 0.06 % of the exact series.
double friction_constant(double aspect);

/// Extra pressure drop of the developing length over fully developed friction, K(inf) [-], in velocity heads,
/// flat entry profile: K = 2 (Ke - Kd) with the developed profile's energy and momentum factors (form of
/// Lundgren, Sparrow & Starr 1964). Values were integrated from the exact velocity series and fitted by a
/// quartic in the aspect to 0.003: 0.686 between plates, 1.552 in a square.
double development_loss(double aspect);

/// Hydraulic diameter 2 a b / (a + b) [m] of sides a, b [m].
double hydraulic_diameter(double side_a, double side_b);

/// Viscous coefficient [1/m] of fully developed laminar flow through a rectangular duct of sides a, b and
/// length l [m], on the duct's mean velocity: 2 (f Re) l / Dh^2.
double duct_friction(double side_a, double side_b, double length);

}  // namespace tuft::elements
