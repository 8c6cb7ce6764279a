// A camera of the tests' own, in three dimensions, and the pictures it takes: what a photo must lead back to.
#pragma once

#include <Eigen/Core>
#include <functional>

#include "geometry/device/photo.hpp"
#include "geometry/photo/picture.hpp"

namespace tuft::test {

using photo::Vec2;
using Vec3 = Eigen::Vector3d;

/// A pinhole camera over a face. Axes of the camera: x right, y down, z forward.
struct Camera {
  int width = 1200, height = 900;  ///< [pixels]
  double focal = 1100.0;           ///< [pixels]
  Vec3 origin;                     ///< of the face's [0, 0], in the camera's axes [m]
  Vec3 first, second;              ///< the face's axes in those of the camera
  double bulge = 0.0;              ///< of the lens, as the case file means it

  /// The place in the picture of face coordinates [m]. The bulge is solved by bisection.
  Vec2 pixel(const Vec2& face) const;
  /// Face coordinates that a place in the picture shows.
  Vec2 face(const Vec2& pixel) const;
};

/// A camera that looks at the middle of a face of that size [m] from a distance [m], slanted by two angles
/// and rolled by a third [rad]. `clockwise`: whether the face's first axis turns clockwise into its second.
Camera camera_over(const Vec2& face_size, double distance, double slant_x, double slant_y, double roll,
                   bool clockwise);

/// How light falls and what the camera does to it.
struct Conditions {
  double blur = 0.0;          ///< standard deviation [pixels]
  double noise = 0.0;         ///< standard deviation of the light [-], where white is 1
  Vec2 slope = Vec2::Zero();  ///< by how much the light grows over the picture's width and height [-]
};

/// The picture of a face whose reflectance (0..1) is given by its coordinates, three by three samples a
/// pixel.
photo::Picture rendered(const Camera& camera, const std::function<double(const Vec2&)>& reflectance,
                        const Conditions& conditions = {});

/// A photo of this view with the face's corners where the camera sees them.
geometry::Photo photo_by_corners(const Camera& camera, geometry::PhotoView view, const Vec2& face_size);

}  // namespace tuft::test
