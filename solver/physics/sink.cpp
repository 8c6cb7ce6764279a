#include "solver/physics/sink.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::instruments {

namespace {

using base::kPi;

/// Integral of 1/R over one coordinate between eta0 and eta1, the other two lying at the distance c.
double line_integral(double eta0, double eta1, double c) {
  return std::asinh(eta1 / c) - std::asinh(eta0 / c);
}

/// Solid angle of one corner's quadrant; finite and with the right sign on the face too (z = 0).
double corner_angle(double xi, double eta, double z) {
  const double distance = std::sqrt(xi * xi + eta * eta + z * z);
  return std::atan2(xi * eta, z * distance);
}

}  // namespace

Eigen::Vector3d sink_velocity(const Face& face, double flow, const Eigen::Vector3d& point) {
  require_face(face);
  base::require_not_negative(flow, "flow into the intake");
  require_finite_vector(point, "place before the intake");
  base::require_not_negative(point.z(), "distance before the intake");

  const double z = point.z();
  const double x0 = point.x() - 0.5 * face.width, x1 = point.x() + 0.5 * face.width;
  const double y0 = point.y() - 0.5 * face.height, y1 = point.y() + 0.5 * face.height;
  const double rim = 1e-9 * (face.width + face.height);
  const auto off_axis = [&](double offset) { return std::max(std::hypot(offset, z), rim); };

  Eigen::Vector3d pull;
  pull.x() = line_integral(y0, y1, off_axis(x0)) - line_integral(y0, y1, off_axis(x1));
  pull.y() = line_integral(x0, x1, off_axis(y0)) - line_integral(x0, x1, off_axis(y1));
  pull.z() =
      corner_angle(x1, y1, z) - corner_angle(x0, y1, z) - corner_angle(x1, y0, z) + corner_angle(x0, y0, z);
  return -flow / (2.0 * kPi * face.area()) * pull;
}

}  // namespace tuft::instruments
