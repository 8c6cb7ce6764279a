#include "geometry/device/attitude.hpp"

#include <Eigen/Geometry>

namespace tuft::geometry {

Pose attitude_of(const Case& content, const Condition& condition) {
  Pose pose = content.poses[condition.pose];
  if (content.supports.empty()) return pose;
  const Tilt& tilt = content.supports[condition.support].tilt;
  const Vec3 turn(*tilt.x, *tilt.y, 0.0);
  const double angle = turn.norm();
  if (angle > 0.0) pose.to_world = Eigen::AngleAxisd(angle, turn / angle).toRotationMatrix() * pose.to_world;
  return pose;
}

}  // namespace tuft::geometry
