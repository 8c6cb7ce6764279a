#include "geometry/device/pose.hpp"

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <utility>

namespace tuft::geometry {
namespace {

// Rotations by a multiple of 90 degrees are kept free of round-off, so that turning a device fully round
// gives the same bytes as not turning it.
Eigen::Matrix3d clean(Eigen::Matrix3d rotation) {
  for (int i = 0; i < 9; ++i) {
    double& entry = rotation.data()[i];
    const double nearest = std::round(entry);
    if (std::abs(entry - nearest) < 1e-14) entry = nearest + 0.0;
  }
  return rotation;
}

constexpr double kQuarter = 1.57079632679489661923;

}  // namespace

Pose tilted(const std::string& name, const Eigen::Vector3d& axis, double angle) {
  Pose pose;
  pose.name = name;
  pose.to_world = clean(Eigen::AngleAxisd(angle, axis.normalized()).toRotationMatrix());
  return pose;
}

Pose named_pose(const std::string& word) {
  const Eigen::Vector3d x = Eigen::Vector3d::UnitX();
  const Eigen::Vector3d y = Eigen::Vector3d::UnitY();
  if (word == "flat") return Pose{};
  if (word == "upside-down") return tilted(word, y, 2 * kQuarter);
  if (word == "on-left-edge") return tilted(word, y, -kQuarter);
  if (word == "on-right-edge") return tilted(word, y, kQuarter);
  if (word == "on-front-edge") return tilted(word, x, kQuarter);
  if (word == "on-rear-edge") return tilted(word, x, -kQuarter);
  Pose unknown;
  unknown.name.clear();
  return unknown;
}

const std::vector<std::string>& pose_words() {
  static const std::vector<std::string> words = {"flat",          "upside-down",   "on-left-edge",
                                                 "on-right-edge", "on-front-edge", "on-rear-edge"};
  return words;
}

}  // namespace tuft::geometry
