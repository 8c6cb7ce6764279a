// A strip or thread in slow air: what the air does to it per length, and the shape it takes.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

namespace tuft::physics {

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

// The shape of a strip or thread that is held at one end, heavy, blown at and stiff.

// Everything happens in one plane with axes (1) sideways and (2) along the rest direction, usually down. The
// angle theta of the tangent is counted from axis 2 towards axis 1: tangent (sin, cos), normal (cos, -sin).

/// How the upper end is held.
enum class EndCondition {
  clamped,  ///< at a given angle
  hinge     ///< free to turn: a thread through a hole, a hair of glue
};

/// Load per length [N/m] on a piece of the strip, with its derivatives.
struct LineLoad {
  Eigen::Vector2d force = {0.0, 0.0};
  Eigen::Vector2d d_angle = {0.0, 0.0};               ///< by the piece's angle [N/m/rad]
  Eigen::Matrix2d d_place = Eigen::Matrix2d::Zero();  ///< column j: by coordinate j of its middle [N/m2]
};

/// Fills the load of every piece from the places of the middles and the angles; all vectors alike in length.
using LoadOnPieces = std::function<void(const std::vector<Eigen::Vector2d>& middles,
                                        const std::vector<double>& angles, std::vector<LineLoad>& loads)>;

/// A strip to be bent.
struct ElasticaProblem {
  double length = 0.0;     ///< [m], > 0
  double stiffness = 0.0;  ///< bending stiffness of the whole width [N m2], >= 0; 0 is a chain
  EndCondition hold = EndCondition::hinge;
  double hold_angle = 0.0;   ///< of the clamp; of the first guess if hinged [rad]
  double load_scale = 0.0;   ///< a typical load [N/m], > 0; sets what counts as balanced
  int pieces = 40;           ///< 4 .. 400
  double tolerance = 1e-10;  ///< of the moment on a piece, over load scale times length times the piece
};

/// Its shape. `places` holds pieces + 1 points from the hold to the free end, `angles` one a piece.
struct ElasticaShape {
  std::vector<Eigen::Vector2d> places;
  std::vector<double> angles;
  bool converged = false;  ///< false: no state of rest was found; the strip would move all the time
  int iterations = 0;

  const Eigen::Vector2d& tip() const { return places.back(); }
};

/// The state of rest under bending and loads (docs/theory.md, I10):
///
///     B theta'' + n . N = 0,   N(s) = integral of the load from s to the end,
///     theta(0) = hold angle or theta'(0) = 0,   theta'(L) = 0
///
/// (derived; the load may depend on angle and place). The strip is cut into equal straight pieces joined by
/// springs of stiffness B over the pieces' length, each piece balanced for itself; second order in the
/// pieces' length, and exact for a rigid strip on a hinge and for a chain of pieces. Newton's method with the
/// full Jacobian, in pseudo-time at first. A state found is kept only if the strip stays in it (no mode of
/// its slopes grows); else it is let fall and followed on: a strip held upright falls over. Starts from
/// `start` if that has `pieces` angles, else from
/// the hold angle. Throws std::invalid_argument for wrong numbers.
ElasticaShape solve_elastica(const ElasticaProblem& problem, const LoadOnPieces& load,
                             const std::vector<double>& start = {});

}  // namespace tuft::physics
