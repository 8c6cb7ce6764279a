// Air that rises from warm things into still air: plumes over points and lines, layers at walls
// (docs/theory.md, N9).
#pragma once

namespace tuft::physics {

/// Volume flow of a turbulent plume over a point is this times B^(1/3) z^(5/3): 6/5 a (9/10 a)^(1/3) pi^(2/3)
/// with an entrainment coefficient a of 0.117 (uniform profiles), which gives 0.142. Morton, Taylor & Turner
/// 1956; the value is that of Linden, Lane-Serff & Smeed 1990; both from memory.
constexpr double point_plume_constant = 0.142;
/// Entrainment coefficient (uniform profiles) of a turbulent plume over a line, free or along a wall: Akhter
/// & Kaye (2020) Environ. Fluid Mech. 20:1579, abstract. The flow of a metre is (2 a)^(2/3) B'^(1/3) z.
constexpr double line_plume_entrainment = 0.16;
/// Laminar plumes in air (Pr 0.71): Q = 49.9 nu z over a point; Q' = 4.10 B'^(1/5) nu^(2/5) z^(3/5) over a
/// line. Derived: similar solutions of the boundary-layer equations, integrated in
/// tests/physics/rising_plume_test.cpp.
constexpr double laminar_point_constant = 49.9;
constexpr double laminar_line_constant = 4.10;
/// The same of the largest speed: 0.375 (B/nu)^(1/2) and 0.809 B'^(2/5) nu^(-1/5) z^(1/5).
constexpr double laminar_point_speed = 0.375;
constexpr double laminar_line_speed = 0.809;
/// Laminar layer at a wall of even flux b per area: Q' = 1.75 nu (b z^4/nu^3)^(1/5), 0.742 of what the line's
/// law gives by images for the same heat; derived as above.
constexpr double laminar_wall_share = 0.742;
/// B z^2/nu^3 (B' z^3/nu^3) at which a plume becomes turbulent; of the order in which experiments place it,
/// judgement.
constexpr double plume_transition = 1e9;

/// What warms the air, as a plume sees it.
struct PlumeSource {
  double buoyancy = 0.0;               ///< B = g P/(rho cp T) [m4/s3], >= 0
  double base = 0.0, top = 0.0;        ///< heights between which it gives its heat evenly [m]
  double longer = 0.0, shorter = 0.0;  ///< horizontal sides [m], longer > 0
  double wall = 0.0;                   ///< 0: air comes from all sides; 1: from one side of a wall
};

struct PlumeFlow {
  double flow = 0.0;      ///< [m3/s]
  double area = 0.0;      ///< what it takes up of a level: its flow over the speed of its warmth [m2]
  double exponent = 1.0;  ///< of its flow's growth with height above its virtual origin [-]
};

/// The plume at a height [m], in still air of one temperature, viscosity nu [m2/s] > 0. Nothing below the
/// source's base. Continuous in height and in every number of the source. On a wall: half the plume of twice
/// the heat (images).
PlumeFlow plume_at(const PlumeSource& source, double height, double nu);

}  // namespace tuft::physics
