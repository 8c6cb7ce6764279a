#include "geometry/device/attitude.hpp"

namespace tuft::geometry {

Pose attitude_of(const Case& content, const Condition& condition) {
  Pose pose = content.poses[condition.pose];
  if (content.supports.empty()) return pose;
  const Tilt& tilt = content.supports[condition.support].tilt;
  const Vec3 turn(*tilt.x, *tilt.y, 0.0);
  const double angle = turn.norm();
  if (angle > 0.0) pose.to_world = tilted("", turn / angle, angle).to_world * pose.to_world;
  return pose;
}

}  // namespace tuft::geometry
