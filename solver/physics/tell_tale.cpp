#include "solver/physics/tell_tale.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

/// Well below what anybody sees: a tip is off by some 1e-6 of the length for the balance, and by under 1 % of
/// its way for the pieces.
constexpr double balance_tolerance = 1e-7;
constexpr int pieces = 28;

void require_tell_tale(const TellTale& tell_tale) {
  numerics::require_positive(tell_tale.length, "length of the strip");
  numerics::require_positive(tell_tale.width, "width of the strip");
  numerics::require_positive(tell_tale.mass_per_length, "mass per length of the strip");
  numerics::require_not_negative(tell_tale.stiffness, "bending stiffness of the strip");
  numerics::require_positive(tell_tale.drag_factor, "drag factor of the strip");
}

/// The plane the strip bends in: (1) `lean`, (2) `down`, and the width along `across`.
struct Plane {
  Eigen::Vector3d origin, lean, down, across;

  Eigen::Vector3d place(const Eigen::Vector2d& p) const { return origin + p.x() * lean + p.y() * down; }
  Eigen::Vector2d in_plane(const Eigen::Vector3d& v) const { return {v.dot(lean), v.dot(down)}; }
};

Plane plane_of(const Hanging& hanging) {
  require_finite_vector(hanging.place, "place of the hold");
  require_finite_vector(hanging.gravity, "gravity on the strip");
  require_finite_vector(hanging.direction, "direction of the strip");
  require_finite_vector(hanging.facing, "facing of the strip");
  numerics::require_positive(hanging.density, "density of the air");
  numerics::require_positive(hanging.viscosity, "kinematic viscosity of the air");
  numerics::require_positive(hanging.direction.norm(), "length of the direction of the strip");
  Plane plane;
  plane.origin = hanging.place;
  plane.down = hanging.direction.normalized();
  const Eigen::Vector3d lean = hanging.facing - hanging.facing.dot(plane.down) * plane.down;
  numerics::require_positive(lean.norm() - 1e-9 * hanging.facing.norm(), "facing across the direction");
  plane.lean = lean.normalized();
  plane.across = plane.down.cross(plane.lean);
  return plane;
}

/// Forces across and along a piece, from the velocities across and along it.
struct Forces {
  DragForce across, along;
};

/// The air along one shape, a place, velocity [m/s] and slope [1/s] for each piece.
struct SeenAir {
  std::vector<Eigen::Vector2d> places, velocities;
  std::vector<Eigen::Matrix2d> slopes;
};

/// A tell-tale in its plane and air: fills the loads `solve_elastica` asks for.
class AirLoad {
 public:
  AirLoad(const TellTale& tell_tale, const Hanging& hanging, const Plane& plane, const AirVelocity& air)
      : tell_tale_(tell_tale),
        drag_air_{hanging.density, hanging.viscosity},
        plane_(plane),
        air_(air),
        weight_(tell_tale.mass_per_length * plane.in_plane(hanging.gravity)) {}

  Eigen::Vector2d weight() const { return weight_; }

  void fill(const std::vector<Eigen::Vector2d>& middles, const std::vector<double>& angles,
            std::vector<LineLoad>& loads) const {
    press(look(middles, angles), middles, angles, loads);
  }

  /// Asks the air along a shape: per piece its velocity, and its slopes across and along the piece.
  SeenAir look(const std::vector<Eigen::Vector2d>& middles, const std::vector<double>& angles) const {
    const double step = 1e-4 * tell_tale_.length;
    SeenAir seen{middles, std::vector<Eigen::Vector2d>(middles.size()),
                 std::vector<Eigen::Matrix2d>(middles.size())};
    for (std::size_t i = 0; i < middles.size(); ++i) {
      const Eigen::Vector2d n(std::cos(angles[i]), -std::sin(angles[i]));
      const Eigen::Vector2d middle = middle_velocity(middles[i]);
      seen.velocities[i] = mean_velocity(middles[i], middle, n);
      // Change along the normal by a difference in the middle of the width, which is all that Newton's method
      // needs; along the strip the neighbours tell it, below.
      seen.slopes[i] = (middle_velocity(middles[i] + step * n) - middle) / step * n.transpose();
    }
    for (std::size_t i = 0; i < middles.size(); ++i) {
      const std::size_t a = i == 0 ? 0 : i - 1, b = i + 1 < middles.size() ? i + 1 : i;
      const Eigen::Vector2d t(std::sin(angles[i]), std::cos(angles[i]));
      seen.slopes[i] +=
          (seen.velocities[b] - seen.velocities[a]) / (middles[b] - middles[a]).norm() * t.transpose();
    }
    return seen;
  }

  /// The loads in air as seen, straight away from where it was seen.
  void press(const SeenAir& seen, const std::vector<Eigen::Vector2d>& middles,
             const std::vector<double>& angles, std::vector<LineLoad>& loads) const {
    for (std::size_t i = 0; i < middles.size(); ++i) {
      const Eigen::Vector2d t(std::sin(angles[i]), std::cos(angles[i]));
      const Eigen::Vector2d n(t.y(), -t.x());
      const Eigen::Vector2d velocity = seen.velocities[i] + seen.slopes[i] * (middles[i] - seen.places[i]);
      loads[i] = load(velocity, t, n);
      loads[i].d_place = load_slope(velocity, t, n) * seen.slopes[i];
    }
  }

 private:
  Eigen::Vector2d middle_velocity(const Eigen::Vector2d& place) const {
    return plane_.in_plane(air_(plane_.place(place)));
  }

  /// Velocity in the plane [m/s] that pushes as the real one does over a strip's width: across the strip the
  /// mean of u|u|, by three Gauss points of which `middle` is one.
  Eigen::Vector2d mean_velocity(const Eigen::Vector2d& place, const Eigen::Vector2d& middle,
                                const Eigen::Vector2d& n) const {
    if (tell_tale_.is_thread) return middle;
    constexpr double point = 0.77459666924148338;
    const Eigen::Vector3d offset = 0.5 * tell_tale_.width * point * plane_.across;
    const std::array<Eigen::Vector2d, 3> u = {plane_.in_plane(air_(plane_.place(place) - offset)), middle,
                                              plane_.in_plane(air_(plane_.place(place) + offset))};
    constexpr std::array<double, 3> weights = {5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};
    const Eigen::Vector2d t(-n.y(), n.x());
    double across = 0.0, along = 0.0;
    for (std::size_t k = 0; k < u.size(); ++k) {
      across += weights[k] * u[k].dot(n) * std::abs(u[k].dot(n));
      along += weights[k] * u[k].dot(t);
    }
    return std::copysign(std::sqrt(std::abs(across)), across) * n + along * t;
  }

  Forces forces(const Eigen::Vector2d& u, const Eigen::Vector2d& t, const Eigen::Vector2d& n) const {
    Forces forces;
    const double across = u.dot(n), along = u.dot(t);
    if (tell_tale_.is_thread) {
      forces.across = thread_across(across, tell_tale_.width, drag_air_);
      forces.along = thread_along(along, tell_tale_.width, drag_air_);
    } else {
      forces.across = strip_across(across, tell_tale_.width, tell_tale_.length, drag_air_);
      forces.along = strip_along(along, tell_tale_.width, tell_tale_.length, drag_air_);
    }
    forces.across.value *= tell_tale_.drag_factor;
    forces.across.slope *= tell_tale_.drag_factor;
    return forces;
  }

  LineLoad load(const Eigen::Vector2d& u, const Eigen::Vector2d& t, const Eigen::Vector2d& n) const {
    const Forces f = forces(u, t, n);
    LineLoad load;
    load.force = weight_ + f.across.value * n + f.along.value * t;
    // dt/dtheta = n, dn/dtheta = -t.
    load.d_angle =
        (-f.across.slope * u.dot(t) + f.along.value) * n + (f.along.slope * u.dot(n) - f.across.value) * t;
    return load;
  }

  Eigen::Matrix2d load_slope(const Eigen::Vector2d& u, const Eigen::Vector2d& t,
                             const Eigen::Vector2d& n) const {
    const Forces f = forces(u, t, n);
    return f.across.slope * n * n.transpose() + f.along.slope * t * t.transpose();
  }

  const TellTale& tell_tale_;
  DragAir drag_air_;
  const Plane& plane_;
  const AirVelocity& air_;
  Eigen::Vector2d weight_;
};

ElasticaShape shape_in(const AirLoad& load, const ElasticaProblem& problem,
                       const std::vector<double>& start) {
  return solve_elastica(
      problem,
      [&load](const std::vector<Eigen::Vector2d>& middles, const std::vector<double>& angles,
              std::vector<LineLoad>& loads) { load.fill(middles, angles, loads); },
      start);
}

/// Where the strip comes to rest if the air is looked at along its shape, taken as straight from there, the
/// strip bent in that, and the air looked at again, until it stays (Newton's method once more, outside the
/// other): far fewer questions to the air than one round a step. Not converged if it does not settle.
ElasticaShape settled_shape(const AirLoad& load, const ElasticaProblem& problem, const ElasticaShape& rest) {
  constexpr int most_looks = 10;
  constexpr double settled = 5e-4;  // of the next turn [rad]
  ElasticaShape shape = rest;
  double last = 4.0;  // more than half a turn
  for (int looks = 0; looks < most_looks; ++looks) {
    std::vector<Eigen::Vector2d> middles(shape.angles.size());
    for (std::size_t i = 0; i < middles.size(); ++i)
      middles[i] = 0.5 * (shape.places[i] + shape.places[i + 1]);
    const SeenAir seen = load.look(middles, shape.angles);
    ElasticaShape next = solve_elastica(
        problem,
        [&](const std::vector<Eigen::Vector2d>& places, const std::vector<double>& angles,
            std::vector<LineLoad>& loads) { load.press(seen, places, angles, loads); },
        shape.angles);
    double turn = 0.0;
    for (std::size_t i = 0; i < middles.size(); ++i)
      turn = std::max(turn, std::abs(next.angles[i] - shape.angles[i]));
    if (!next.converged || turn > last) break;
    shape = std::move(next);
    // Turns shrink at least as the last one did; the first has none to be held against.
    if (looks > 0 && turn * turn / last < settled) return shape;
    last = turn;
  }
  shape.converged = false;
  return shape;
}

/// Largest force per length that the air can put on the strip near its rest shape [N/m].
double air_scale(const TellTale& tell_tale, const Hanging& hanging, const Plane& plane,
                 const ElasticaShape& rest, const AirVelocity& air) {
  double fastest = 0.0;
  for (const Eigen::Vector2d& place : rest.places)
    fastest = std::max(fastest, air(plane.place(place)).norm());
  const DragAir drag_air{hanging.density, hanging.viscosity};
  const DragForce force = tell_tale.is_thread
                              ? thread_across(fastest, tell_tale.width, drag_air)
                              : strip_across(fastest, tell_tale.width, tell_tale.length, drag_air);
  return tell_tale.drag_factor * force.value;
}

/// How often the air is asked.
enum class Asking { seldom, at_every_step };

Deflection bend(const TellTale& tell_tale, const Hanging& hanging, const AirVelocity& air, Asking asking) {
  require_tell_tale(tell_tale);
  const Plane plane = plane_of(hanging);
  const AirVelocity still = [](const Eigen::Vector3d&) { return Eigen::Vector3d(Eigen::Vector3d::Zero()); };
  const AirLoad at_rest(tell_tale, hanging, plane, still);
  const AirLoad in_air(tell_tale, hanging, plane, air);

  ElasticaProblem problem;
  problem.length = tell_tale.length;
  problem.stiffness = tell_tale.stiffness;
  problem.hold = tell_tale.hold;
  problem.tolerance = balance_tolerance;
  problem.pieces = pieces;
  const double weight = at_rest.weight().norm();
  // Without weight the stiffness alone sets the scale; a hinge without weight has no rest direction but that
  // of `direction`.
  const double bend = tell_tale.stiffness / (tell_tale.length * tell_tale.length * tell_tale.length);
  problem.load_scale = std::max({weight, 1e-3 * bend, 1e-12});
  if (tell_tale.hold == EndCondition::hinge && weight > 0.0)
    problem.hold_angle = std::atan2(at_rest.weight().x(), at_rest.weight().y());  // where its weight points
  // A strip clamped exactly upright would balance; real ones fall to a side.
  std::vector<double> start(static_cast<std::size_t>(problem.pieces), problem.hold_angle);
  if (tell_tale.hold == EndCondition::clamped && at_rest.weight().y() < 0.0)
    for (double& angle : start) angle += 0.02;
  const ElasticaShape rest = shape_in(at_rest, problem, start);

  problem.load_scale = std::max(problem.load_scale, air_scale(tell_tale, hanging, plane, rest, air));
  ElasticaShape blown;
  if (asking == Asking::seldom) blown = settled_shape(in_air, problem, rest);
  if (!blown.converged) blown = shape_in(in_air, problem, rest.angles);

  Deflection deflection;
  deflection.rest_tip = rest.tip();
  deflection.tip = blown.tip();
  deflection.lean = blown.tip().x() - rest.tip().x();
  deflection.travel = (blown.tip() - rest.tip()).norm();
  for (const Eigen::Vector2d& place : blown.places) deflection.shape.push_back(plane.place(place));
  deflection.converged = rest.converged && blown.converged;
  return deflection;
}

constexpr double hardly_angle = 5e-3, clearly_angle = 17e-3, hand_factor = 3.0;  // [rad], judgement
// A factor of 2 is 1.96 standard deviations of the threshold's logarithm.
const double log_deviation = std::log(2.0) / numerics::kDeviations95;
constexpr double fastest_visible = 30.0;
constexpr double resolved_angle = numerics::kDegree / 60.0;  // a minute of arc [rad]

/// Probability that a travel is above a threshold known to within a factor of 2.
double above(double travel, double threshold) {
  return travel > 0.0 ? normal_below(std::log(travel / threshold) / log_deviation) : 0.0;
}

}  // namespace

TellTale strip_of(const SheetMaterial& material, double width, double length, EndCondition hold) {
  TellTale strip{false,
                 length,
                 width,
                 material.area_density.nominal * width,
                 material.stiffness.nominal * width,
                 material.drag_factor.nominal,
                 hold};
  require_tell_tale(strip);
  return strip;
}

TellTale thread_of(const ThreadMaterial& material, double length, EndCondition hold) {
  TellTale thread{
      true, length, material.diameter.nominal, material.linear_density.nominal, material.stiffness.nominal,
      1.0,  hold};
  require_tell_tale(thread);
  return thread;
}

Deflection deflect(const TellTale& tell_tale, const Hanging& hanging, const AirVelocity& air) {
  return bend(tell_tale, hanging, air, Asking::seldom);
}

Deflection deflect_step_by_step(const TellTale& tell_tale, const Hanging& hanging, const AirVelocity& air) {
  return bend(tell_tale, hanging, air, Asking::at_every_step);
}

Deflection deflect_in_even_air(const TellTale& tell_tale, const Hanging& hanging, double speed) {
  numerics::require_finite(speed, "speed of the air");
  const Eigen::Vector3d velocity = speed * plane_of(hanging).lean;
  return deflect_step_by_step(tell_tale, hanging, [&](const Eigen::Vector3d&) { return velocity; });
}

FlutterSpeed flutter_speed(const TellTale& tell_tale, double gravity) {
  require_tell_tale(tell_tale);
  numerics::require_not_negative(gravity, "gravity along the strip");
  const double length = tell_tale.length;
  const double bend = tell_tale.hold == EndCondition::clamped
                          ? 12.36 * tell_tale.stiffness / (tell_tale.mass_per_length * std::pow(length, 4))
                          : 0.0;
  const double frequency = std::sqrt(bend + 1.446 * gravity / length);
  const double speed = 10.0 / 3.516 * frequency * length;
  return {speed, 0.5 * speed, 2.0 * speed};
}

double contrast_kept(double width, double distance) {
  numerics::require_positive(width, "width of the strip");
  numerics::require_positive(distance, "distance of the eye");
  return std::min(1.0, width / (resolved_angle * distance));
}

SightThresholds sight_thresholds(const Viewing& viewing) {
  numerics::require_positive(viewing.distance, "distance of the eye");
  double scale = viewing.distance * (viewing.hand_held ? hand_factor : 1.0);
  numerics::require_not_negative(viewing.width, "width of the strip");
  if (viewing.width > 0.0) scale /= contrast_kept(viewing.width, viewing.distance);
  return {hardly_angle * scale, clearly_angle * scale};
}

Sight look(double travel, const Viewing& viewing) {
  numerics::require_not_negative(travel, "travel of the tip");
  const SightThresholds thresholds = sight_thresholds(viewing);
  Sight sight;
  sight.clearly = above(travel, thresholds.clearly);
  sight.not_at_all = 1.0 - above(travel, thresholds.hardly);
  sight.hardly = 1.0 - sight.clearly - sight.not_at_all;
  sight.seen = travel >= thresholds.clearly  ? Seen::clearly
               : travel >= thresholds.hardly ? Seen::hardly
                                             : Seen::not_at_all;
  return sight;
}

std::optional<double> smallest_speed(const TellTale& tell_tale, const Hanging& hanging,
                                     const Viewing& viewing, Seen wanted) {
  if (wanted == Seen::not_at_all) throw std::invalid_argument("wanted sight: must be hardly or clearly");
  Viewing of_this = viewing;
  of_this.width = tell_tale.width;
  const SightThresholds thresholds = sight_thresholds(of_this);
  const double needed = wanted == Seen::clearly ? thresholds.clearly : thresholds.hardly;
  // Without a state of rest it moves all the time, and that is seen.
  const auto enough = [&](double speed) {
    const Deflection bent = deflect_in_even_air(tell_tale, hanging, speed);
    return !bent.converged || bent.travel >= needed;
  };
  double low = 0.0, high = 0.01;
  while (!enough(high)) {
    low = high;
    high *= 2.0;
    if (high > 2.0 * fastest_visible) return std::nullopt;
  }
  while (high - low > 1e-3 * high) {
    const double middle = 0.5 * (low + high);
    (enough(middle) ? high : low) = middle;
  }
  if (high > fastest_visible) return std::nullopt;
  return high;
}

}  // namespace tuft::physics
