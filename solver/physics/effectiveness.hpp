// How much of what it could take up a stream takes up from a wall of one temperature.
#pragma once

namespace tuft::elements {

/// Effectiveness 0 .. 1 [-] and its derivative by the number of transfer units.
struct Effectiveness {
  double value = 0.0;
  double d_transfer_units = 0.0;
};

/// 1 - exp(-NTU), NTU = h A / (m cp) >= 0; a wall of one temperature (exact). ASHRAE Handbook - Fundamentals,
/// ch. 4, eqs. 39, 48.
Effectiveness effectiveness(double transfer_units);

/// Heat carried off per kelvin between wall and entering air.
struct CarriedHeat {
  double value = 0.0;   ///< m cp eps [W/K]; heat [W] = value (T_wall - T_in)
  double d_flow = 0.0;  ///< by the mass flow [J/(kg K)]
};

/// m cp eps of a mass flow [kg/s] >= 0 with specific heat cp [J/(kg K)] past a wall of conductance hA [W/K] >
/// 0, `d_conductance` its derivative by the mass flow. Tends to m cp as the flow goes to 0, smoothly, and
/// never exceeds it or hA.
CarriedHeat carried_heat(double mass_flow, double specific_heat, double conductance, double d_conductance);

}  // namespace tuft::elements
