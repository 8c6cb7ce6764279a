#include "solver/physics/elastica.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/numerics/curves.hpp"
#include "solver/numerics/dense.hpp"

namespace tuft::physics {
namespace {

using numerics::kPi;

constexpr double creeping = 0.2, white_from = 0.6;

double lamb(double reynolds) { return 8.0 * kPi / (reynolds * (0.5 - 0.5772 - std::log(reynolds / 8.0))); }
double white(double reynolds) { return 1.0 + 10.0 / std::cbrt(reynolds * reynolds); }

/// 0 below `creeping`, 1 above `white_from`, smooth between in ln Re.
double joint(double reynolds) {
  if (reynolds <= creeping) return 0.0;
  if (reynolds >= white_from) return 1.0;
  const double t = std::log(reynolds / creeping) / std::log(white_from / creeping);
  return t * t * (3.0 - 2.0 * t);
}

/// High-Reynolds drag of a strip by the inverse of its aspect.
double wide_drag(double aspect) {
  static const numerics::MonotoneCubic curve({0.0, 0.05, 0.1, 0.2, 1.0}, {2.0, 1.5, 1.3, 1.2, 1.18});
  return curve(1.0 / aspect).value;
}

void require_air(const DragAir& air) {
  numerics::require_positive(air.density, "density of the air");
  numerics::require_positive(air.viscosity, "kinematic viscosity of the air");
}

/// 1/2 rho size [steady u|u| + viscous (nu/size)^(2/3) |u|^(1/3) u].
DragForce two_terms(double velocity, double size, double steady, double viscous, const DragAir& air) {
  const double speed = std::abs(velocity);
  const double factor = viscous * std::pow(air.viscosity / size, 2.0 / 3.0) * std::cbrt(speed);
  const double half = 0.5 * air.density * size;
  return {half * (steady * speed + factor) * velocity, half * (2.0 * steady * speed + 4.0 / 3.0 * factor)};
}

constexpr int most_iterations = 300;
constexpr int most_falls = 4;         ///< out of states it would leave
constexpr double largest_turn = 0.6;  ///< of a piece in one step [rad]

Eigen::Vector2d tangent(double angle) { return {std::sin(angle), std::cos(angle)}; }

void require_problem(const ElasticaProblem& problem) {
  numerics::require_positive(problem.length, "length of the strip");
  numerics::require_not_negative(problem.stiffness, "bending stiffness of the strip");
  numerics::require_finite(problem.hold_angle, "angle of the hold");
  numerics::require_positive(problem.load_scale, "load scale of the strip");
  numerics::require_within(problem.pieces, 3.0, 400.0, "pieces of the strip");
  numerics::require_within(problem.tolerance, 0.0, 1e-3, "tolerance of the strip's balance");
}

/// The chain of pieces: residual (moment on each piece [N m]) and its derivatives by the angles.
class Pieces {
 public:
  Pieces(const ElasticaProblem& problem, const LoadOnPieces& load)
      : problem_(problem), load_(load), count_(problem.pieces), piece_(problem.length / problem.pieces) {
    loads_.resize(count_);
    middles_.resize(count_);
    pulls_.resize(count_);
    normals_.resize(count_);
    gradients_.resize(count_ + 1);
  }

  void place(const std::vector<double>& angles) {
    Eigen::Vector2d end = Eigen::Vector2d::Zero();
    for (int i = 0; i < count_; ++i) {
      const Eigen::Vector2d t = tangent(angles[i]);
      normals_[i] = {t.y(), -t.x()};
      middles_[i] = end + 0.5 * piece_ * t;
      end += piece_ * t;
    }
    load_(middles_, angles, loads_);
    Eigen::Vector2d below = Eigen::Vector2d::Zero();
    for (int i = count_ - 1; i >= 0; --i) {
      pulls_[i] = below + 0.5 * piece_ * loads_[i].force;
      below += piece_ * loads_[i].force;
    }
  }

  Eigen::VectorXd residual(const std::vector<double>& angles) const {
    Eigen::VectorXd moment(count_);
    const double spring = problem_.stiffness / piece_;
    for (int i = 0; i < count_; ++i) {
      double bend = 0.0;
      if (i > 0) bend -= spring * (angles[i] - angles[i - 1]);
      if (i == 0 && problem_.hold == EndCondition::clamped)
        bend -= 2.0 * spring * (angles[0] - problem_.hold_angle);
      if (i + 1 < count_) bend += spring * (angles[i + 1] - angles[i]);
      moment[i] = bend + piece_ * normals_[i].dot(pulls_[i]);
    }
    return moment;
  }

  Eigen::MatrixXd jacobian() {
    Eigen::MatrixXd slope(count_, count_);
    add_load_slopes(slope);
    const double spring = problem_.stiffness / piece_;
    for (int i = 0; i < count_; ++i) {
      if (i > 0) slope(i, i) -= spring, slope(i, i - 1) += spring;
      if (i == 0 && problem_.hold == EndCondition::clamped) slope(0, 0) -= 2.0 * spring;
      if (i + 1 < count_) slope(i, i) -= spring, slope(i, i + 1) += spring;
      slope(i, i) -= piece_ * Eigen::Vector2d(-normals_[i].y(), normals_[i].x()).dot(pulls_[i]);
    }
    return slope;
  }

  double moment_scale() const { return problem_.load_scale * problem_.length * piece_; }

  std::vector<Eigen::Vector2d> nodes(const std::vector<double>& angles) const {
    std::vector<Eigen::Vector2d> places(1, Eigen::Vector2d::Zero());
    for (double angle : angles) places.push_back(places.back() + piece_ * tangent(angle));
    return places;
  }

 private:
  /// The pull on piece i, N_i, feels the angle of piece j through the load on the pieces from i on: on j
  /// itself by its angle, and on j and all below because j carries them sideways. Of the piece that is both
  /// the last and the own one only half depends on its middle.
  void add_load_slopes(Eigen::MatrixXd& slope) {
    gradients_[count_].setZero();
    for (int k = count_ - 1; k >= 0; --k) gradients_[k] = gradients_[k + 1] + piece_ * loads_[k].d_place;
    const double square = piece_ * piece_;
    for (int j = 0; j < count_; ++j) {
      const Eigen::Vector2d& n = normals_[j];
      // Pieces above j: all of j's load by its angle, half of it by its place.
      const Eigen::Vector2d from_above =
          loads_[j].d_angle + (gradients_[j + 1] + 0.5 * piece_ * loads_[j].d_place) * n;
      for (int i = 0; i < j; ++i) slope(i, j) = square * normals_[i].dot(from_above);
      const Eigen::Vector2d own =
          0.5 * loads_[j].d_angle + (gradients_[j + 1] + 0.25 * piece_ * loads_[j].d_place) * n;
      slope(j, j) = square * n.dot(own);
      for (int i = j + 1; i < count_; ++i) {
        const Eigen::Vector2d below = (gradients_[i + 1] + 0.5 * piece_ * loads_[i].d_place) * n;
        slope(i, j) = square * normals_[i].dot(below);
      }
    }
  }

  const ElasticaProblem& problem_;
  const LoadOnPieces& load_;
  int count_;
  double piece_;
  std::vector<LineLoad> loads_;
  std::vector<Eigen::Vector2d> middles_, pulls_, normals_;
  std::vector<Eigen::Matrix2d> gradients_;
};

/// What the inverse of the step in pseudo-time is multiplied by, given how much of the imbalance is left.
double next_share(double imbalance_left) {
  return std::clamp(imbalance_left, 0.05, imbalance_left > 1.0 ? 3.0 : 0.4);
}

/// A balanced chain that the least push would make leave its state: the way it would go (largest entry 1), or
/// nothing if it stays. Where the symmetric part of the slopes pulls back, so does the whole.
Eigen::VectorXd way_out(const Eigen::MatrixXd& slope) {
  const Eigen::MatrixXd symmetric = -0.5 * (slope + slope.transpose());
  if (numerics::cholesky_factor(symmetric).size() > 0) return {};
  const numerics::FastestMode mode = numerics::fastest_mode(slope);
  if (mode.growth <= 1e-9 * slope.lpNorm<Eigen::Infinity>()) return {};
  const Eigen::VectorXd way = mode.vector.real();
  Eigen::Index largest = 0;
  way.cwiseAbs().maxCoeff(&largest);
  return way / way[largest];
}

/// Creeps to a balanced state from `angles`, which it changes: Newton's method in pseudo-time, against a drag
/// on the pieces' turning. The first step is as short as the fastest fall of an upright strip; then it grows
/// as the imbalance shrinks. Counts its steps into `iterations`; true if it got there.
bool creep(Pieces& strip, double tolerance, std::vector<double>& angles, int& iterations) {
  const double scale = strip.moment_scale();
  double inverse_step = scale;
  strip.place(angles);
  Eigen::VectorXd moment = strip.residual(angles);
  double imbalance = numerics::require_finite(moment.lpNorm<Eigen::Infinity>(), "load on the strip");
  while (imbalance > tolerance * scale && iterations < most_iterations) {
    ++iterations;
    Eigen::MatrixXd slope = strip.jacobian();
    slope.diagonal().array() -= inverse_step;
    Eigen::VectorXd turn = numerics::DenseLu(slope).solve(-moment);
    const double largest = numerics::require_finite(turn.lpNorm<Eigen::Infinity>(), "turn of the strip");
    if (largest > largest_turn) turn *= largest_turn / largest;
    for (std::size_t i = 0; i < angles.size(); ++i) angles[i] += turn[static_cast<Eigen::Index>(i)];
    strip.place(angles);
    moment = strip.residual(angles);
    const double before = imbalance;
    imbalance = numerics::require_finite(moment.lpNorm<Eigen::Infinity>(), "load on the strip");
    // A step that had to be cut short was too long.
    const double change = largest > largest_turn ? 2.0 : next_share(imbalance / before);
    inverse_step = std::min(inverse_step * change, 10.0 * scale);
  }
  return imbalance <= tolerance * scale;
}

}  // namespace

double cylinder_drag(double reynolds) {
  numerics::require_positive(reynolds, "Reynolds number of a thread");
  const double share = joint(reynolds);
  if (share <= 0.0) return lamb(reynolds);
  if (share >= 1.0) return white(reynolds);
  return std::exp((1.0 - share) * std::log(lamb(reynolds)) + share * std::log(white(reynolds)));
}

DragForce thread_across(double velocity, double diameter, const DragAir& air) {
  numerics::require_finite(velocity, "air velocity at the thread");
  numerics::require_positive(diameter, "diameter of the thread");
  require_air(air);
  const double reynolds = std::abs(velocity) * diameter / air.viscosity;
  if (reynolds >= white_from) return two_terms(velocity, diameter, 1.0, 10.0, air);
  // Creeping flow: the force is all but linear, its slope taken over a small step in ln(speed).
  const double least = std::max(reynolds, 1e-6);
  const double viscosity = air.density * air.viscosity;
  const auto per_velocity = [&](double re) { return 0.5 * viscosity * re * cylinder_drag(re); };
  const double step = 1e-4;
  const double bend =
      (per_velocity(least * (1.0 + step)) - per_velocity(least * (1.0 - step))) / (2.0 * step);
  return {per_velocity(least) * velocity, per_velocity(least) + bend};
}

DragForce thread_along(double velocity, double diameter, const DragAir& air) {
  numerics::require_finite(velocity, "air velocity along the thread");
  numerics::require_positive(diameter, "diameter of the thread");
  require_air(air);
  return two_terms(velocity, diameter, 0.0, 5.0, air);
}

DragForce strip_across(double velocity, double width, double length, const DragAir& air) {
  numerics::require_finite(velocity, "air velocity at the strip");
  numerics::require_positive(width, "width of the strip");
  numerics::require_positive(length, "length of the strip");
  require_air(air);
  const double aspect = width < length ? length / width : width / length;
  return two_terms(velocity, width, wide_drag(aspect), 10.0, air);
}

DragForce strip_along(double velocity, double width, double length, const DragAir& air) {
  numerics::require_finite(velocity, "air velocity along the strip");
  numerics::require_positive(width, "width of the strip");
  numerics::require_positive(length, "length of the strip");
  require_air(air);
  const double root = std::sqrt(std::abs(velocity) * air.viscosity / length);
  const double factor = air.density * width * 1.328 * root;
  return {factor * velocity, 1.5 * factor};
}

ElasticaShape solve_elastica(const ElasticaProblem& problem, const LoadOnPieces& load,
                             const std::vector<double>& start) {
  require_problem(problem);
  std::vector<double> angles(static_cast<std::size_t>(problem.pieces), problem.hold_angle);
  if (start.size() == angles.size()) angles = start;

  Pieces pieces(problem, load);
  ElasticaShape shape;
  for (int fall = 0; fall <= most_falls; ++fall) {
    shape.converged = creep(pieces, problem.tolerance, angles, shape.iterations);
    if (!shape.converged) break;
    const Eigen::VectorXd way = way_out(pieces.jacobian());
    if (way.size() == 0) break;
    shape.converged = false;
    // To one side, then to the other, further each time.
    const double push = largest_turn * (fall % 2 == 0 ? 1.0 : -1.0) * (1.0 + fall);
    for (std::size_t i = 0; i < angles.size(); ++i) angles[i] += push * way[static_cast<Eigen::Index>(i)];
  }
  shape.places = pieces.nodes(angles);
  shape.angles = angles;
  return shape;
}

}  // namespace tuft::physics
