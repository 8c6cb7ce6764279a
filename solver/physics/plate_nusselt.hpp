// Published mean Nusselt numbers of flat plates in air, as published; `film` makes one law of them.
#pragma once

namespace tuft::elements {

/// A mean Nusselt number [-] with its derivatives by the logarithm of the Rayleigh number (that is, Ra
/// dNu/dRa, which stays finite at Ra = 0) and by the Prandtl number.
struct Nusselt {
  double value = 0.0;
  double d_log_rayleigh = 0.0;
  double d_prandtl = 0.0;
};

/// Isothermal vertical plate, Ra >= 0 and Nu on its height, laminar and turbulent in one:
/// Nu = {0.825 + 0.387 Ra^(1/6) / [1 + (0.492/Pr)^(9/16)]^(8/27)}^2. Churchill S.W., Chu H.H.S. (1975) Int.
/// J. Heat Mass Transfer 18:1323-1329, as transcribed in the ASHRAE Handbook - Fundamentals, ch. 4 (T9.3). Ra
/// up to 1e12; the plate is wide, so that the value at Ra = 0 is not that of a finite patch.
Nusselt vertical_plate(double rayleigh, double prandtl);

/// Horizontal plate with the light air free to rise: hot and facing up, or cold and facing down. Ra, Nu on
/// area over perimeter. 0.96 Ra^(1/6) for 1 < Ra < 200, 0.59 Ra^(1/4) to 1e4, 0.54 Ra^(1/4) for 2.2e4 .. 8e6,
/// 0.15 Ra^(1/3) to 1.5e9. Lloyd J.R., Moran W.R. (1974) J. Heat Transfer 96:443-447 and Goldstein R.J. et
/// al. (1973), as transcribed in the ASHRAE Handbook - Fundamentals, ch. 4 (T9.5-T9.8). The published pieces
/// do not meet; here they go over into each other smoothly (in ln Nu against ln Ra) over 100 .. 400, 1e4
/// .. 2.2e4 and 4e6 .. 1.6e7, which leaves no piece by more than 2.5 % in its own range at and beyond 150.
Nusselt face_up_plate(double rayleigh);

/// Horizontal plate that holds the light air captive: hot and facing down, or cold and facing up. Ra, Nu on
/// area over perimeter: 0.27 Ra^(1/4), 1e5 < Ra < 1e10, McAdams, as transcribed in the ASHRAE Handbook
/// (T9.9).
Nusselt face_down_plate(double rayleigh);

/// Laminar flow along an isothermal plate, mean over its length, Re and Nu on the length:
/// Nu = 0.664 Re^(1/2) Pr^(1/3), Re < 5e5, Pr > 0.6. ASHRAE Handbook - Fundamentals, ch. 4, Table 8.
double forced_plate(double reynolds, double prandtl);

}  // namespace tuft::elements
