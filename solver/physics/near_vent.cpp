#include "solver/physics/near_vent.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/numerics/constants.hpp"
#include "solver/physics/reading.hpp"

namespace tuft::physics {
namespace {

/// Integral of 1/R over one coordinate between eta0 and eta1, the other two lying at the distance c.
double line_integral(double eta0, double eta1, double c) {
  return std::asinh(eta1 / c) - std::asinh(eta0 / c);
}

/// Solid angle of one corner's quadrant; finite and with the right sign on the face too (z = 0).
double corner_angle(double xi, double eta, double z) {
  const double distance = std::sqrt(xi * xi + eta * eta + z * z);
  return std::atan2(xi * eta, z * distance);
}

/// Height along gravity that counts, over the longer side (judgement).
constexpr double least_height = 0.1;

struct Part {
  Face face;
  Eigen::Vector3d centre = {0.0, 0.0, 0.0};
};

/// The part of a face of a share of its area that lies towards positive x (or y), or the other one.
Part part_of(const Face& face, const Split& split, double share, bool positive) {
  Part part{face, {0.0, 0.0, 0.0}};
  double& side = split.across_width ? part.face.width : part.face.height;
  const double whole = side;
  side *= share;
  const double shift = 0.5 * (whole - side) * (positive ? 1.0 : -1.0);
  part.centre[split.across_width ? 0 : 1] = shift;
  return part;
}

void require_vent(const VentFlow& vent) {
  require_face(vent.face);
  numerics::require_not_negative(vent.out, "flow out of the vent");
  numerics::require_not_negative(vent.in, "flow into the vent");
  numerics::require_positive(vent.out_temperature, "temperature of the outgoing air");
  numerics::require_positive(vent.room_temperature, "temperature of the room");
  require_finite_vector(vent.gravity, "gravity in the vent's frame");
}

/// Air that stands still would make a jet of nothing; below this share of the other way there is none.
constexpr double least_flow_share = 1e-6;

}  // namespace

Eigen::Vector3d sink_velocity(const Face& face, double flow, const Eigen::Vector3d& point) {
  require_face(face);
  numerics::require_not_negative(flow, "flow into the intake");
  require_finite_vector(point, "place before the intake");
  numerics::require_not_negative(point.z(), "distance before the intake");

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
  return -flow / (2.0 * numerics::kPi * face.area()) * pull;
}

Split split_of(const VentFlow& vent) {
  require_vent(vent);
  Split split;
  const double largest = std::max(vent.out, vent.in);
  if (std::min(vent.out, vent.in) <= least_flow_share * largest) return split;
  const double gravity = vent.gravity.norm();
  const double rise_x = std::abs(vent.gravity.x()) * vent.face.width;
  const double rise_y = std::abs(vent.gravity.y()) * vent.face.height;
  if (std::max(rise_x, rise_y) <= least_height * gravity * vent.face.long_side()) return split;
  const double ratio = std::cbrt((vent.out / vent.in) * (vent.out / vent.in));
  split.layered = true;
  split.out_share = ratio / (1.0 + ratio);
  split.across_width = rise_x > rise_y;
  const bool up_is_positive = vent.gravity[split.across_width ? 0 : 1] < 0.0;
  const bool leaves_above = vent.out_temperature >= vent.room_temperature;
  split.out_at_positive = up_is_positive == leaves_above;
  return split;
}

NearVent::NearVent(const VentFlow& vent) : vent_(vent), sink_face_(vent.face) {
  const Split split = split_of(vent);
  Part out{vent.face, {0.0, 0.0, 0.0}};
  if (split.layered) {
    out = part_of(vent.face, split, split.out_share, split.out_at_positive);
    const Part in = part_of(vent.face, split, 1.0 - split.out_share, !split.out_at_positive);
    sink_face_ = in.face;
    sink_centre_ = in.centre;
  }
  jet_centre_ = out.centre;
  if (vent.out > least_flow_share * std::max(vent.out, vent.in))
    jet_.emplace(
        Outlet{out.face, vent.out, vent.out_temperature, vent.room_temperature, vent.air, vent.gravity});
}

AirParts NearVent::parts(const Eigen::Vector3d& point) const {
  AirParts parts;
  parts.drawn = sink_velocity(sink_face_, vent_.in, point - sink_centre_);
  if (jet_) {
    const JetAir jet = jet_->at_point(point - jet_centre_);
    parts.blown = jet.velocity;
    parts.drawn += jet.entrainment;
    parts.temperature_excess = jet.temperature_excess;
  }
  return parts;
}

AirAt NearVent::at(const Eigen::Vector3d& point) const {
  require_finite_vector(point, "place before the vent");
  AirAt air;
  air.temperature = vent_.room_temperature;
  if (point.z() < 0.0) return air;
  const AirParts own = parts(point);
  air.velocity = own.blown + own.drawn;
  air.temperature += own.temperature_excess;
  return air;
}

AirAt air_from(const std::vector<PlacedVent>& vents, const Eigen::Vector3d& point) {
  require_finite_vector(point, "place in the air");
  AirAt air;
  Eigen::Vector3d momentum = Eigen::Vector3d::Zero(), drawn = Eigen::Vector3d::Zero();
  double excess = 0.0;
  if (!vents.empty()) air.temperature = vents.front().vent.room_temperature();
  for (const PlacedVent& placed : vents) {
    const Eigen::Matrix3d& axes = placed.axes;
    if (!((axes.transpose() * axes).isIdentity(1e-9) && axes.determinant() > 0.0))
      throw std::invalid_argument("axes of a vent: must be a rotation");
    const Eigen::Vector3d local = axes.transpose() * (point - placed.centre);
    if (local.z() < 0.0) continue;
    const AirParts own = placed.vent.parts(local);
    const Eigen::Vector3d stream = axes * own.blown;
    momentum += stream.norm() * stream;
    drawn += axes * own.drawn;
    if (std::abs(own.temperature_excess) > std::abs(excess)) excess = own.temperature_excess;
  }
  const double strength = momentum.norm();
  air.velocity = drawn;
  if (strength > 0.0) air.velocity += momentum / std::sqrt(strength);
  air.temperature += excess;
  return air;
}

}  // namespace tuft::physics
