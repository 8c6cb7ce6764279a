// Heat transfer of laminar flow in a rectangular channel, from its entry on.
#pragma once

namespace tuft::elements {

/// A mean Nusselt number [-] on the hydraulic diameter, and its derivative by the inverse reduced length z.
struct ChannelNusselt {
  double value = 0.0;
  double d_inverse_length = 0.0;
};

/// What the velocity looks like where the heated walls begin.
enum class Entry {
  Developed,  ///< fully developed profile
  Flat        ///< the same velocity all over, as behind an opening; higher Nu
};

/// Fully developed, walls of one temperature, `aspect` = short/long side in [0, 1]: 7.541 (1 - 2.610 a
/// + 4.970 a^2
/// - 5.119 a^3 + 2.702 a^4 - 0.548 a^5). Shah R.K., London A.L., "Laminar Flow Forced Convection in Ducts",
/// Academic Press 1978, as transcribed in public code. Plates 7.541, square 2.976.
double developed_nusselt(double aspect);

/// Mean from the entry to a length L, walls of one temperature, on the logarithmic mean temperature
/// difference; z = 1/x* = Re Pr Dh / L >= 0:
///
///     Nu^n = Nu_T^n + (c z^(1/3))^n + ([2/(1 + 22 Pr)]^(1/6) z^(1/2))^n        (docs/theory.md, H2)
///
/// The last term, of a boundary layer that grows together with the profile, is only there for Entry::Flat.
/// Between plates n = 3, c = 1.841, the law of the VDI-Waermeatlas, 9th ed. 2002, section Gb, as transcribed
/// in public code (0.1 < Pr < 1000). For other aspects the middle term goes with the mean wall shear of the
/// profile (Leveque), c = 1.841 (f Re / 24)^(1/3) (1 - 0.11 a^(1/2)) and n = 3 + a^(1/2): fitted to the
/// temperature field computed for aspects 1 .. 1/8, which it meets within 3.5 %
/// (tests/physics/channel_nusselt_test.cpp). With Entry::Flat it is within 11 % of the law of Stephan (1959),
/// mostly above, and within 5 % of that of Teertstra et al. (2000) (tests/published). Smooth at z = 0. Re <
/// 2300.
ChannelNusselt channel_nusselt(double aspect, double inverse_length, double prandtl, Entry entry);

}  // namespace tuft::elements
