#include "geometry/device/photo.hpp"

namespace tuft::geometry {

Face face_of(const Photo& photo) {
  if (photo.view != PhotoView::inside) return *kind_called<Face>(word_of(photo.view));
  return photo.seen_from == OpenedAt::base ? Face::base : Face::top;
}

bool turns_clockwise(const Photo& photo) {
  // First axis x second axis points into the device there, so that an eye outside sees the turn reversed.
  const Face face = face_of(photo);
  return face == Face::base || face == Face::left || face == Face::rear;
}

Eigen::Vector2d photo_extent(const Photo& photo, const Vec3& device_size) {
  Vec3 first, second;
  face_axes(face_of(photo), first, second);
  return {first.dot(device_size), second.dot(device_size)};
}

}  // namespace tuft::geometry
