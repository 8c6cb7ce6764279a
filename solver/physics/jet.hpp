// A vent as an instrument before it sees it, and the air blown out of it: the free jet, its spread, and how
// warmth bends it.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/numerics/checks.hpp"
#include "solver/physics/air.hpp"

namespace tuft::physics {

/// A vent's rectangle. Its frame: origin at the centre, x along the width, y along the height, z along the
/// normal out of the device, so z > 0 is the room. Lengths in m.
struct Face {
  double width = 0.0;       ///< > 0
  double height = 0.0;      ///< > 0
  double open_ratio = 1.0;  ///< free area of the cover over the face, 0 < it <= 1

  double area() const { return width * height; }
  double short_side() const { return width < height ? width : height; }
  double long_side() const { return width < height ? height : width; }
};

/// Throws std::invalid_argument unless the sides are > 0 and the open ratio within (0, 1].
inline void require_face(const Face& face) {
  numerics::require_positive(face.width, "width of the face");
  numerics::require_positive(face.height, "height of the face");
  numerics::require_within(face.open_ratio, 0.0, 1.0, "open ratio of the face");
}

// Air blown out of a vent: the free jet, its spread, and how warmth bends it.

/// Centreline constant K of a jet far from a grille: Vx = K Q/(sqrt(A_free) X). 5.7 for a grille without
/// deflection, ASHRAE Handbook - Fundamentals, ch. 20, Table 1, as transcribed publicly.
constexpr double grille_jet_constant = 5.7;
/// Centreline speed in the core over the face velocity is at most this, ASHRAE ch. 20, eq. 2 (perforated
/// panel 1.2, other outlets 1.0 to 1.2).
constexpr double core_speed_limit = 1.2;

/// Share of `grille_jet_constant` that is left at a Reynolds number: 1 from 19 400 up, 1.35/6.11 from 1430
/// down, a power law between. Those two are the decay constants of a round jet measured by Abdel-Rahman A.A.,
/// Al-Fahed S.F., Chakroun W. (1996) Mech. Res. Commun. 23:313-324 (abstract); the power law, and holding
/// the value below 1430, where nothing was seen, are judgement (docs/theory.md, I4). Small vents run at
/// Re 500 to 5000. Throws unless Re >= 0.
double low_reynolds_share(double reynolds);

/// Multiplicative uncertainty (95 %) of a jet's speed beyond the core: 1.2 at high Re, 2 at 1430 and below
/// (judgement, I4).
double jet_uncertainty(double reynolds);

/// Air leaving a vent, in the frame of `Face`.
struct Outlet {
  Face face;
  double flow = 0.0;                 ///< [m3/s] at the outlet's temperature, > 0
  double temperature = 293.15;       ///< of the outgoing air [K]
  double room_temperature = 293.15;  ///< [K]
  AirState air;
  Eigen::Vector3d gravity = {0.0, 0.0, 0.0};  ///< in the vent's frame [m/s2]
};

/// One cross-section of a jet.
struct JetSection {
  double distance = 0.0;  ///< along the axis [m]
  Eigen::Vector3d position = {0.0, 0.0, 0.0};
  Eigen::Vector3d direction = {0.0, 0.0, 1.0};
  double speed = 0.0;               ///< on the axis [m/s]
  double width = 0.0;               ///< sigma of the spread of momentum [m]; far out the half-speed radius
                                    ///< is sqrt(4 ln 2) sigma
  double momentum = 0.0;            ///< kinematic, [m4/s2]
  double share = 1.0;               ///< of the momentum per area that is left on the axis, 1 in the core
  double flow = 0.0;                ///< volume flow, entrained air included [m3/s]
  double entrained = 0.0;           ///< flow drawn in per length, from here to the next section [m2/s]
  double temperature_excess = 0.0;  ///< on the axis over the room's [K]
};

/// What a jet does at a place.
struct JetAir {
  Eigen::Vector3d velocity = {0.0, 0.0, 0.0};  ///< of the blown air [m/s]; zero beyond the jet's end
  /// Of the room's air drawn sideways into the jet [m/s]: (dQ/ds)/(2 pi r) towards the axis outside, none on
  /// it (docs/theory.md, I6).
  Eigen::Vector3d entrainment = {0.0, 0.0, 0.0};
  double temperature_excess = 0.0;  ///< over the room's [K]
};

/// A free jet as a function of place.
///
/// Momentum spreads over the cross-section as heat does (Reichardt's hypothesis, from memory), with a width
/// sigma that grows along the way (docs/theory.md, I3):
///
///     U^2 = M/A * E(xi, W) E(eta, H),   E(x, L) = [erf((x + L/2)/(sqrt2 sigma)) - erf((x - L/2)/...)]/2
///     sigma = C s,   C = 1/(sqrt(2 pi) K),   M = V_face^2 A/f
///
/// One form for all zones: a core; behind a slot Vx = V sqrt(K H/X), ASHRAE's zone 2 with 5.7 for its 6.0;
/// far out Vx = K V sqrt(A)/X, zone 3; the profile is ASHRAE's (r/r_half)^2 = 3.3 log10(Vx/V), and the flow
/// its entrainment 2 V0/Vx, or sqrt2 V0/Vx for a slot (all derived). At low Re C rises by the inverse of
/// `low_reynolds_share` behind the core, whose length K times the short side is kept; Re there is that of the
/// outlet times the root of the momentum gained (I4).
///
/// Along the axis dM/ds = k b/U (I5): b the flux of buoyancy, a vector against gravity for light air, k = 1
/// in the core and 1 + 1.2^2 far out, where warmth is 1.2 times as wide as speed (derived; 1.2 from memory).
class Jet {
 public:
  /// Throws std::invalid_argument for a flow or temperature that is not > 0 or a wrong face.
  explicit Jet(const Outlet& outlet);

  /// The jet's cross-sections from the face to where it is followed, 200 times the root of the area, or to
  /// where it has lost its momentum or come back to the face, as hot air blown down does.
  const std::vector<JetSection>& sections() const { return sections_; }

  /// The cross-section at a distance along the axis [m] >= 0; the last one beyond the end.
  JetSection at(double distance) const;

  /// The jet at a point with z >= 0 of the vent's frame.
  JetAir at_point(const Eigen::Vector3d& point) const;

  double reynolds() const { return reynolds_; }

 private:
  double nearest_distance(const Eigen::Vector3d& point) const;
  double profile(const JetSection& section, const Eigen::Vector3d& offset) const;
  double spread(double from, double to, double momentum) const;
  double share_on_axis(double sigma) const;
  double axis_speed(double momentum, double share) const;
  double shown_speed(double speed, double momentum) const;
  double axis_excess(double speed, double momentum) const;
  double section_flow(double speed, double sigma) const;
  void follow();
  void fill_axis(JetSection& section) const;
  void fill_sections();

  Outlet outlet_;
  double reynolds_ = 0.0;
  double core_length_ = 0.0;                    ///< [m]
  double spread_core_ = 0.0;                    ///< d sigma/ds in the core
  double start_momentum_ = 0.0;                 ///< kinematic [m4/s2]
  Eigen::Vector3d buoyancy_ = {0.0, 0.0, 0.0};  ///< flux [m4/s3]
  std::vector<JetSection> sections_;
};

}  // namespace tuft::physics
