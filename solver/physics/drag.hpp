// What slow air does to a strip or a thread, per length.
#pragma once

namespace tuft::instruments {

/// Air for a drag: density [kg/m3] and kinematic viscosity [m2/s], both > 0.
struct DragAir {
  double density = 1.2;
  double viscosity = 1.5e-5;
};

/// A force per length [N/m] along the velocity that causes it, and its derivative by that velocity; odd in
/// the velocity.
struct DragForce {
  double value = 0.0;
  double slope = 0.0;  ///< [N s/m2], >= 0
};

/// Drag coefficient of a smooth cylinder across the flow, Re > 0 on its diameter: Lamb's creeping flow 8
/// pi/(Re (1/2 - 0.5772 - ln(Re/8))) below Re 0.2, White's fit 1 + 10 Re^(-2/3) above 0.6 (to 2e5), between
/// them straight in logarithms (docs/theory.md, I11; both from memory, the joint is judgement).
double cylinder_drag(double reynolds);

/// Force on a cylinder of a diameter [m] by the component of the velocity [m/s] across it.
DragForce thread_across(double velocity, double diameter, const DragAir& air);
/// Force along it by the component along it: half of the viscous term of the force across (slender bodies
/// creep twice as easily lengthwise; applied at all Re by judgement).
DragForce thread_along(double velocity, double diameter, const DragAir& air);

/// Force on a strip of a width and length [m] by the component of the velocity along its normal. Only that
/// component counts (cross-flow principle), so that a strip leaning by theta feels cos^2(theta). Drag
/// coefficient, Re on the width, aspect = longer/shorter side: the value at high Re by aspect (1.18 at 1, 1.2
/// at 5, 1.3 at 10, 1.5 at 20, 2.0 for an endless strip; White and Hoerner, from memory) and, of the
/// cylinder, the term 10 Re^(-2/3) (judgement). +-20 % (I11).
DragForce strip_across(double velocity, double width, double length, const DragAir& air);
/// Friction along it, laminar layers on both sides: mean 1.328 Re^(-1/2) on the length each, which is
/// Reynolds' analogy to the mean Nusselt number 0.664 Re^(1/2) Pr^(1/3) of ASHRAE ch. 4, Table 8 (derived).
DragForce strip_along(double velocity, double width, double length, const DragAir& air);

}  // namespace tuft::instruments
