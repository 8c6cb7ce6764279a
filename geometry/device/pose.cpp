#include "geometry/device/pose.hpp"

#include <Eigen/Geometry>
#include <cmath>

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

// The poses people have words for, as turns about an axis (0 x, 1 y) by quarters.
struct KnownPose {
  const char* word;
  int axis;
  double quarters;
};
constexpr KnownPose kKnownPoses[] = {{"flat", 0, 0.0},          {"upside-down", 1, 2.0},
                                     {"on-left-edge", 1, -1.0}, {"on-right-edge", 1, 1.0},
                                     {"on-front-edge", 0, 1.0}, {"on-rear-edge", 0, -1.0}};

}  // namespace

Pose tilted(const std::string& name, const Eigen::Vector3d& axis, double angle) {
  return {name, clean(Eigen::AngleAxisd(angle, axis.normalized()).toRotationMatrix())};
}

Pose named_pose(const std::string& word) {
  for (const KnownPose& known : kKnownPoses)
    if (word == known.word) return tilted(word, Eigen::Vector3d::Unit(known.axis), known.quarters * kQuarter);
  return {"", Eigen::Matrix3d::Identity()};
}

const std::vector<std::string>& pose_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> out;
    for (const KnownPose& known : kKnownPoses) out.push_back(known.word);
    return out;
  }();
  return words;
}

}  // namespace tuft::geometry
