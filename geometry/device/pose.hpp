// How the device is held: a rotation from the device frame to the world.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

namespace tuft::geometry {

/// The attitude of the device. Device frame: x right, y from the front edge to the rear edge, z from the base
/// up, for a device lying flat. World: +Z is up. Any proper rotation is a pose; names are for people only.
struct Pose {
  std::string name = "flat";
  Eigen::Matrix3d to_world = Eigen::Matrix3d::Identity();

  /// Unit vector that points down, in the device frame.
  Eigen::Vector3d down() const { return -to_world.row(2).transpose(); }

  template <class Archive, class Self>
  static void fields(Archive& to, Self& pose) {
    to.field("name", pose.name);
    to.field("to_world", pose.to_world);
  }
};

/// The pose turned about a device axis (a unit vector) by an angle [rad] from lying flat, right-handed.
Pose tilted(const std::string& name, const Eigen::Vector3d& axis, double angle);

/// The poses people have words for: flat, upside-down, on-left-edge, on-right-edge, on-front-edge,
/// on-rear-edge ("on-left-edge": the left side is down). Empty name in the result when the word is unknown.
Pose named_pose(const std::string& word);

/// All the words `named_pose` knows, in a fixed order.
const std::vector<std::string>& pose_words();

}  // namespace tuft::geometry
