// Cloth and bedding that air is drawn through.
#pragma once

#include "solver/physics/face_law.hpp"

namespace tuft::elements {

/// Pressure difference of the air-permeability test ISO 9237 for clothing [Pa]. (ASTM D737 uses 125 Pa.)
constexpr double fabric_test_pressure = 100.0;

/// Fabric stated by its air permeability as ISO 9237:1995 defines it: the velocity [m/s] > 0 through it at a
/// set pressure difference. Pores are so small that the drop is taken as all viscous, with the viscosity of
/// the test's standard climate, 20 C: dp / dp_test = (mu / mu_20) (w / w_test).
FaceLaw fabric(double air_permeability, double test_pressure = fabric_test_pressure);

}  // namespace tuft::elements
