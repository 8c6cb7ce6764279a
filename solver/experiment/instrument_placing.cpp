#include "solver/experiment/instrument_placing.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::bench {

namespace {

constexpr double kLevelFrom = 0.7;    // cosine
constexpr double kBelowPlace = 0.3;   // share of a hanging strip that hangs below the place
constexpr double kLeastHeight = 0.1;  // of the longer side, as in instruments::split_of

}  // namespace

Stance stance_of(geometry::Face face, const Vec3& gravity) {
  Stance stance;
  stance.up = -geometry::face_normal(face).dot(gravity.normalized());
  stance.attitude = std::abs(stance.up) > kLevelFrom ? Attitude::level : Attitude::hanging;
  return stance;
}

Vec3 place_before(const geometry::Vent& vent, const Vec3& gravity, double distance, Part part) {
  Vec3 place = vent.centre + distance * geometry::face_normal(vent.face);
  if (part == Part::middle) return place;
  const Eigen::Matrix3d axes = vent_axes(vent.face);
  const Vec3 up = axes.transpose() * -gravity.normalized();
  const double rise_x = std::abs(up.x()) * vent.width, rise_y = std::abs(up.y()) * vent.height;
  if (std::max(rise_x, rise_y) <= kLeastHeight * std::max(vent.width, vent.height)) return place;
  const int axis = rise_x > rise_y ? 0 : 1;
  const double side = axis == 0 ? vent.width : vent.height;
  const double sense = (up[axis] > 0.0) == (part == Part::upper) ? 1.0 : -1.0;
  return place + sense * 0.375 * side * axes.col(axis);
}

instruments::Hanging hang(const Cut& cut, geometry::Face face, const OutsideAir& air, const Vec3& place) {
  const Vec3 up = -air.gravity().normalized();
  const Vec3 normal = geometry::face_normal(face);
  const Stance stance = stance_of(face, air.gravity());
  instruments::Hanging hanging;
  hanging.gravity = air.gravity();
  hanging.density = air.density();
  hanging.viscosity = air.viscosity();
  if (stance.attitude == Attitude::hanging) {
    hanging.direction = -up;
    hanging.facing = (normal - normal.dot(up) * up).normalized();
    hanging.place = place + (1.0 - kBelowPlace) * cut.body.length * up;
    return hanging;
  }
  const Eigen::Matrix3d axes = vent_axes(face);
  hanging.direction = axes.col(0) - axes.col(0).dot(up) * up;
  if (hanging.direction.norm() < 0.5) hanging.direction = axes.col(1) - axes.col(1).dot(up) * up;
  hanging.direction.normalize();
  hanging.facing = stance.up > 0.0 ? up : Vec3(-up);
  hanging.place = place - 0.5 * cut.body.length * hanging.direction;
  if (stance.up > 0.0) {  // it sags: held so high that its tip comes no nearer than the place
    const auto rest = instruments::deflect_in_even_air(cut.body, hanging, 0.0);
    // Along the normal, so that its tip stays in what comes straight out.
    if (rest.converged) hanging.place -= std::min(0.0, rest.rest_tip.x()) / stance.up * normal;
  }
  return hanging;
}

double even_speed(const Cut& cut, const instruments::Hanging& hanging, const OutsideAir& air) {
  return even_speed(cut, hanging, [&](const Vec3& place) { return air.at(place).velocity; });
}

double even_speed(const Cut& cut, const instruments::Hanging& hanging, const instruments::AirVelocity& air) {
  constexpr int points = 10;
  double sum = 0.0, weights = 0.0;
  for (int i = 0; i < points; ++i) {
    const double share = (i + 0.5) / points;
    const double weight = tip_weight(cut, share);
    const Vec3 place = hanging.place + share * cut.body.length * hanging.direction;
    const double speed = air(place).dot(hanging.facing);
    sum += weight * speed * std::abs(speed);
    weights += weight;
  }
  const double mean = sum / weights;
  return std::copysign(std::sqrt(std::abs(mean)), mean);
}

}  // namespace tuft::bench
