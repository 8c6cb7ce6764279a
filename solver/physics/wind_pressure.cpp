#include "solver/physics/wind_pressure.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/checks.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::physics {
namespace {

constexpr double kFacingWind = 0.6;  // Cp of a wall that faces the wind
constexpr double kLargestSideRatio = 4.0;
// A face whose normal's level part is shorter than this is level: it has no direction.
constexpr double kLevel = 1e-9;

double cube(double x) { return x * x * x; }
double square(double x) { return x * x; }

}  // namespace

double wall_pressure_coefficient(double angle, double side_ratio) {
  numerics::require_not_negative(angle, "angle of the wind");
  numerics::require_not_negative(numerics::kPi - angle, "rest of the angle of the wind to pi");
  numerics::require_positive(side_ratio, "side ratio");
  const double g = std::log(std::clamp(side_ratio, 1.0 / kLargestSideRatio, kLargestSideRatio));
  const double half_sine = std::sin(0.5 * angle), half_cosine = std::cos(0.5 * angle);
  return kFacingWind * std::log(1.248 - 0.703 * half_sine - 1.175 * square(std::sin(angle)) +
                                0.131 * cube(std::sin(2.0 * angle * g)) + 0.769 * half_cosine +
                                0.071 * square(g * half_sine) + 0.717 * square(half_cosine));
}

double block_pressure_coefficient(const BlockFace& face, const Eigen::Vector3d& from) {
  const double up = square(face.normal.z());
  const double level = std::hypot(face.normal.x(), face.normal.y());
  if (level < kLevel) return roof_pressure_coefficient;
  const double cosine = (face.normal.x() * from.x() + face.normal.y() * from.y()) / level;
  const double wall = wall_pressure_coefficient(std::acos(std::clamp(cosine, -1.0, 1.0)), face.side_ratio);
  return up * roof_pressure_coefficient + (1.0 - up) * wall;
}

}  // namespace tuft::physics
