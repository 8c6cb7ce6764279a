// Flow through holes, ducts and gaps: a free hole in a wall, a rectangular duct, a flat passage inside the
// chassis, the gap under the device and bedding that breathes.
#pragma once

#include "solver/physics/face_law.hpp"

namespace tuft::physics {

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

// A free hole or slot in a wall between two large spaces.

/// Discharge coefficient of a sharp-edged hole in a thin wall at high Reynolds number [-]: "sharp edge Cd
/// ~ 0.6" in ASHRAE Handbook - Fundamentals, ch. 16; 0.61 lies between that and the 0.611 of leakage ratings
/// quoted there (CGSB 149.10).
constexpr double sharp_edge_discharge = 0.61;

/// Clear rectangle of a vent or hole [m]; both > 0.
struct Opening {
  double width = 0.0;
  double height = 0.0;
  double area() const { return width * height; }
};

// Each law is stated on the mean velocity over the opening itself.
//   inertial: 0.5/Cd^2 for a thin wall, 0.5 (entry + exit) for one so thick that the jet fills the hole
//             again,
//             between them by `free_jet_share` of thickness over hydraulic diameter.
//   viscous:  creeping flow through the hole in a thin wall plus developed friction over the thickness.
//   between them: `with_onset`.

/// What a hole of a sheet is like.
struct HoleShape {
  double open_ratio = 0.0;          ///< of the sheet [0..1]; 0: a hole by itself
  double relative_thickness = 0.0;  ///< of the sheet over the hole's hydraulic diameter, >= 0
  double size = 0.0;                ///< diameter, or width of a slot [m], > 0
  double roundness = 1.0;           ///< 1 a round hole, 0 a slot; in between by the aspect of a rectangle
};

/// A hole's law on its own velocity, with the parts of its inertial loss that slow flow lacks
/// (docs/theory.md, E6). A fit to steady Navier-Stokes solutions of one hole and one slot of a lattice, Re
/// 0.1 to 400 (slots 200, six holes 900), thickness 0.02 to 1.5 hydraulic diameters, open ratio 0 to 0.55:
/// 4 % rms, 15 % at worst, where sheets are thick (tests/published/hole_flow; derived). Beyond that the loss
/// goes over into that given; where, is a judgement.
FaceLaw with_onset(const FaceLaw& hole, const HoleShape& shape);

/// Long slot of clear width s in a wall of thickness t [m]. Creeping limit: dp = 32 mu w / (pi s), the
/// two-dimensional Sampson flow with w(x) = dp/(4 mu) sqrt(s^2/4 - x^2) (cover.cpp, f -> 0); friction 12
/// mu t w / s^2.
FaceLaw sharp_slot(double width, double thickness);

/// Rectangular hole. Creeping limit by the aspect short/long, linearly (judgement), between the slot and, for
/// a square, the round hole of its area: Sampson, Phil. Trans. R. Soc. A 182 (1891) 449, dp = 24 mu Q / d^3
/// (as quoted in a public encyclopedia), which is 6 pi mu w / d. Friction of the rectangle.
FaceLaw sharp_rectangle(const Opening& opening, double thickness);

// A flat duct inside the chassis, from one space to another.

/// Sides, length along the flow [m] and number of right-angle turns of a rectangular passage.
struct Duct {
  double width = 0.0;   ///< > 0
  double height = 0.0;  ///< > 0
  double length = 0.0;  ///< >= 0; 0 is a hole in a wall
  double bends = 0.0;   ///< >= 0
};

/// Laminar duct between two large spaces, on the duct velocity.
///   viscous:  developed friction with f Re of the real aspect ratio (`duct_friction`) plus the creeping
///             flow through its two vents;
///   inertial: half of entry + exit + developing length K(inf) + turns.
/// A length below about one hydraulic diameter turns into the sharp hole in a wall (`free_jet_share`), length
/// 0 exactly so. Range: laminar, Re < 2300 on the hydraulic diameter. K(inf) is the full developing loss, too
/// large in a passage that ends before the flow is developed: with x+ = length/(Dh Re) friction and
/// development together are within 12 % of the developing-flow equation for x+ >= 0.005, and at worst K(inf)
/// velocity heads too large as x+ -> 0 (tests/published/shah_development_test.cpp).
FaceLaw passage(const Duct& duct);

// What a device stands on: the gap between a face and the surface below it, and bedding that breathes.

/// One way out of (or into) a vent through the gap; all lengths in m, all > 0 (length >= 0).
struct GapPath {
  double height = 0.0;       ///< of the gap
  double length = 0.0;       ///< from the vent's edge to the device's edge
  double inner_width = 0.0;  ///< across the flow, at the vent's edge
  double outer_width = 0.0;  ///< across the flow, at the device's edge; in between it changes linearly

  /// The area the law is stated on: the mouth at the vent's edge [m2].
  double face_area() const { return inner_width * height; }
};

/// Reynolds number rho w h / mu on the gap's height up to which its flow is taken as laminar [-]: about 2300
/// to 3000 on the hydraulic diameter 2 h; judgement.
constexpr double kGapLaminar = 1500.0;

/// Width [m] of the straight channel with the same lubrication resistance: the logarithmic mean of the two,
/// (b - a) / ln(b/a), which is exact for a width that changes linearly. Smooth where a = b.
double gap_mean_width(double inner_width, double outer_width);

/// Flow through the gap, on the velocity at the vent's edge (area `face_area`).
///   viscous:  12 l / h^2, lubrication between plates, with the mean width;
///   inertial: half of: one right-angle turn between vent and gap and the developing-length loss K(inf) of
///             parallel plates, both at the vent's edge, and the mean of entry and exit at the device's edge.
///             A gap keeps one law for both directions: inflow loses 0.49 outside and its whole head in the
///             turn, outflow turns first and loses its whole head outside (judgement).
/// Range: laminar, rho w h / mu < 1500, and flat: length of several h.
FaceLaw support_gap(const GapPath& path);

// Cloth and bedding that air is drawn through.

/// Pressure difference of the air-permeability test ISO 9237 for clothing [Pa]. (ASTM D737 uses 125 Pa.)
constexpr double fabric_test_pressure = 100.0;

/// Fabric stated by its air permeability as ISO 9237:1995 defines it: the velocity [m/s] > 0 through it at a
/// set pressure difference. Pores are so small that the drop is taken as all viscous, with the viscosity of
/// the test's standard climate, 20 C: dp / dp_test = (mu / mu_20) (w / w_test).
FaceLaw fabric(double air_permeability, double test_pressure = fabric_test_pressure);

}  // namespace tuft::physics
