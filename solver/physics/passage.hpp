// A flat duct inside the chassis, from one space to another.
#pragma once

#include "solver/physics/face_law.hpp"

namespace tuft::elements {

/// Sides, length along the flow [m] and number of right-angle turns of a rectangular passage.
struct Duct {
  double width = 0.0;   ///< > 0
  double height = 0.0;  ///< > 0
  double length = 0.0;  ///< >= 0; 0 is a hole in a wall
  double bends = 0.0;   ///< >= 0
};

/// Laminar duct between two large spaces, on the duct velocity.
///   viscous:  developed friction with f Re of the real aspect ratio (rectangular_duct.hpp) plus the creeping
///             flow through its two mouths;
///   inertial: half of entry + exit + developing length K(inf) + turns.
/// A length below about one hydraulic diameter turns into the sharp hole in a wall (`free_jet_share`), length
/// 0 exactly so. Range: laminar, Re < 2300 on the hydraulic diameter. K(inf) is the full developing loss, too
/// large in a passage that ends before the flow is developed: with x+ = length/(Dh Re) friction and
/// development together are within 12 % of the developing-flow equation for x+ >= 0.005, and at worst K(inf)
/// velocity heads too large as x+ -> 0 (tests/published/shah_development_test.cpp).
FaceLaw passage(const Duct& duct);

}  // namespace tuft::elements
