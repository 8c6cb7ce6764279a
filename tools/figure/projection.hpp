// How a device is seen in parallel projection, and the drawing of its body from there: for the bench and for
// a page.
#pragma once

#include <vector>

#include "geometry/device/device.hpp"
#include "geometry/device/pose.hpp"
#include "tools/figure/svg.hpp"

namespace tuft::figure {

/// A parallel projection of the world onto the page.
struct Projection {
  geometry::Vec3 right, up, towards;  ///< unit vectors in the world
  geometry::Pose pose;
  geometry::Vec3 middle = geometry::Vec3::Zero();  ///< of the device, its own frame [m]
  double scale = 1.0;                              ///< [px/m]
  Point origin;                                    ///< the device's middle on the page [px]

  /// A point of the device frame on the page.
  Point at(const geometry::Vec3& point) const;
  std::vector<Point> at(const std::vector<geometry::Vec3>& points) const;
  /// A direction of the device frame on the page, per metre times the scale; y downwards.
  Point direction(const geometry::Vec3& vector) const;
  /// Cosine between a direction of the device frame and the reader's.
  double facing(const geometry::Vec3& vector) const;
};

/// Seen from an azimuth in the world's level plane, from x towards y [rad], a little from above.
Projection projection_from(double azimuth, const geometry::Device& device, const geometry::Pose& pose);
/// The projection in which the vents of a device in a pose are seen best; the first of equals.
Projection best_projection(const geometry::Device& device, const geometry::Pose& pose);

/// The eight corners of the chassis.
std::vector<geometry::Vec3> corners_of(const geometry::Device& device);
/// The four corners of a vent's rectangle, round it.
std::vector<geometry::Vec3> outline_of(const geometry::Vent& vent);
/// The four corners of a face of the chassis, round it.
std::vector<geometry::Vec3> outline_of(const geometry::Device& device, geometry::Face face);
/// The four corners of the open lid.
std::vector<geometry::Vec3> lid_outline(const geometry::Device& device, double angle);

/// The box of points on the page.
Box box_of(const std::vector<Point>& points);

/// Draws the faces in sight; those that look neither up nor aside in `under`.
void draw_chassis(const Projection& projection, const geometry::Device& device, Paint under, Svg& svg);
/// What a device lies on, as it is drawn.
struct Slab {
  double thickness = 0.0;                  ///< [m]; 0: a plane
  std::vector<geometry::Pose> poses = {};  ///< it reaches under the device in all of these; empty: in its own
};
/// Draws what is level under the lowest corner, or under the feet where the base is down.
void draw_surface(const Projection& projection, const geometry::Device& device, Svg& svg,
                  const Slab& slab = {});
/// How high the device's middle is above that plane [m].
double height_above_surface(const Projection& projection, const geometry::Device& device);
/// Draws the lid, open by an angle [rad]; whether the chassis hides it.
void draw_lid(const Projection& projection, const geometry::Device& device, double angle, Svg& svg);
bool lid_is_behind(const Projection& projection, double angle);

}  // namespace tuft::figure
