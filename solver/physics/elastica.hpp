// The shape of a strip or thread that is held at one end, heavy, blown at and stiff.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

namespace tuft::instruments {

// Everything happens in one plane with axes (1) sideways and (2) along the rest direction, usually down. The
// angle theta of the tangent is counted from axis 2 towards axis 1: tangent (sin, cos), normal (cos, -sin).

/// How the upper end is held.
enum class Hold {
  Clamped,  ///< at a given angle
  Hinge     ///< free to turn: a thread through a hole, a hair of glue
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
  Hold hold = Hold::Hinge;
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
/// (derived; the load may hang on angle and place). The strip is cut into equal straight pieces joined by
/// springs of stiffness B over the pieces' length, each piece balanced for itself; second order in the
/// pieces' length, and exact for a rigid strip on a hinge and for a chain of pieces. Newton's method with the
/// full Jacobian, in pseudo-time at first. A state found is kept only if the strip stays in it (no mode of
/// its slopes grows); else it is let fall and followed on: a strip held upright falls over. Starts from
/// `start` if that has `pieces` angles, else from
/// the hold angle. Throws std::invalid_argument for wrong numbers.
ElasticaShape solve_elastica(const ElasticaProblem& problem, const LoadOnPieces& load,
                             const std::vector<double>& start = {});

}  // namespace tuft::instruments
