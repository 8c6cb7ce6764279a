// What a device stands on: the gap between a face and the surface below it, and bedding that breathes.
#pragma once

#include "solver/physics/ends.hpp"

namespace tuft::elements {

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

}  // namespace tuft::elements
