// Where things lie against one another: boxes of zones, points, rectangles on faces; and what is correlated.
#pragma once

#include <numeric>
#include <vector>

#include "geometry/device/device.hpp"

namespace tuft::casefile {

/// Lengths closer than this are the same [m]; a file states tenths of millimetres at best.
constexpr double kSameLength = 1e-6;

/// Distance from a point to a zone's box [m]; 0 inside and on its surface.
double distance_to(const geometry::Zone& zone, const geometry::Vec3& point);

/// True if the point lies within the chassis box or on its surface.
bool inside_chassis(const geometry::Device& device, const geometry::Vec3& point);

/// Part of a zone box's surface that lies on the chassis' surface [m2].
double outer_surface(const geometry::Device& device, const geometry::Zone& zone);

/// Volume two boxes have in common [m3].
double common_volume(const geometry::Zone& a, const geometry::Zone& b);

/// Zones straight behind a point on a face: those whose box holds the point just inside, else those first met
/// within 5 mm inwards. More than one when the point lies on a border, none when nothing is there.
std::vector<int> zones_behind(const geometry::Device& device, geometry::Face face,
                              const geometry::Vec3& point);

/// Index of the zone nearest to a point; of equals the first by name, so that the order of a file decides
/// nothing.
int nearest_zone(const geometry::Device& device, const geometry::Vec3& point);

/// Extents along its two axes of a face of a device of that size [m]; of the hinge along x, and 0: its slot
/// has no stated width.
Eigen::Vector2d face_size(const geometry::Vec3& size, geometry::Face face);

/// A rectangle on a face, with sides along the face's axes or turned about its centre as a vent may be.
struct Rectangle {
  geometry::Face face = geometry::Face::base;
  geometry::Vec3 centre = geometry::Vec3::Zero();  ///< [m]
  double width = 0.0, height = 0.0;                ///< [m]
  double turned = 0.0;                             ///< [rad], see Vent

  /// Of the rectangle along the face's axes that holds it [m].
  Eigen::Vector2d extents() const { return geometry::extents_on_face(width, height, turned); }
};
inline Rectangle rectangle_of(const geometry::Vent& vent) {
  return {vent.face, vent.centre, vent.width, vent.height, vent.turned};
}
inline Rectangle rectangle_of(const geometry::Skin& skin) {
  return {skin.face, skin.centre, skin.width, skin.height, 0.0};
}

/// Coordinates of a rectangle's centre along its face's two axes [m].
Eigen::Vector2d on_face_coordinates(const Rectangle& rectangle);

/// Area two rectangles have in common [m2]; none if they lie on different faces.
double common_area(const Rectangle& a, const Rectangle& b);

/// Numbers gathered into groups that are joined with one another.
class Groups {
 public:
  explicit Groups(std::size_t size) : parent_(size) {
    std::iota(parent_.begin(), parent_.end(), std::size_t{0});
  }

  /// A number of the group that stands for all of it.
  std::size_t of(std::size_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(std::size_t a, std::size_t b) { parent_[of(a)] = of(b); }

 private:
  std::vector<std::size_t> parent_;
};

}  // namespace tuft::casefile
