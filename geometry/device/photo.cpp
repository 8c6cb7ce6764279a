#include "geometry/device/photo.hpp"

namespace tuft::geometry {

Face face_of(const Photo& photo) {
  if (photo.view != PhotoView::inside) return *kind_called<Face>(word_of(photo.view));
  return photo.seen_from == OpenedAt::base ? Face::base : Face::top;
}

bool turns_clockwise(const Photo& photo) { return turn_sense(face_of(photo)) < 0.0; }

Eigen::Vector2d photo_extent(const Photo& photo, const Vec3& device_size) {
  Vec3 first, second;
  face_axes(face_of(photo), first, second);
  return {first.dot(device_size), second.dot(device_size)};
}

}  // namespace tuft::geometry
