#include "solver/network/outside_pressure.hpp"

#include <cmath>

#include "geometry/device/attitude.hpp"
#include "solver/network/surface.hpp"
#include "solver/physics/wind_pressure.hpp"

namespace tuft::network {

using geometry::Face;
using geometry::Vec3;

OutsidePressure::OutsidePressure(const geometry::Case& content, const geometry::Condition& condition,
                                 double density)
    : size_(content.device.size), to_world_(geometry::attitude_of(content, condition).to_world) {
  const geometry::Draught& draught = content.room.draught;
  const double speed = *draught.speed * (1.0 - *content.supports[condition.support].shelter);
  head_ = 0.5 * density * speed * speed;
  from_ = {std::sin(*draught.from), -std::cos(*draught.from), 0.0};
  if (!content.device.lid.present) return;
  const double angle = lid_angle(content.device, condition);
  screen_ = {0.0, -std::sin(angle), -std::cos(angle)};
  screened_ = std::sin(angle) * std::sin(angle);
}

double OutsidePressure::before(Face face) const {
  if (!moves()) return 0.0;
  const double bare = pressure(geometry::face_normal(face));
  if (screened_ == 0.0 || (face != Face::top && face != Face::hinge)) return bare;
  double screened = pressure(screen_);
  if (face == Face::hinge) screened = 0.5 * (screened + pressure(geometry::face_normal(Face::rear)));
  return screened_ * screened + (1.0 - screened_) * bare;
}

double OutsidePressure::pressure(const Vec3& normal) const {
  // The block's extents along the face's level direction and behind it, from the shadow of its edges.
  const Vec3 in_room = to_world_ * normal;
  const Vec3 level(in_room.x(), in_room.y(), 0.0);
  const double length = level.norm();
  physics::BlockFace face;
  face.normal = in_room;
  if (length > 1e-9) {
    const Vec3 ahead = level / length, across(-ahead.y(), ahead.x(), 0.0);
    const Vec3 across_device = to_world_.transpose() * across, ahead_device = to_world_.transpose() * ahead;
    const double width = across_device.cwiseProduct(size_).norm();
    const double depth = ahead_device.cwiseProduct(size_).norm();
    face.side_ratio = width / depth;
  }
  return head_ * physics::block_pressure_coefficient(face, from_);
}

}  // namespace tuft::network
