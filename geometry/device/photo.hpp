// A photo of the device: which face it shows and where the face lies in it. No pixels; they stay in the file.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/device.hpp"

namespace tuft::geometry {

/// What a photo shows: a face from outside, or the inside with the cover off.
enum class PhotoView { base, top, left, right, front, rear, inside };
constexpr std::array<const char*, 7> words(PhotoView) {
  return {"base", "top", "left", "right", "front", "rear", "inside"};
}

/// The side the device was opened at and is looked into from.
enum class OpenedAt { base, top };
constexpr std::array<const char*, 2> words(OpenedAt) { return {"base", "top"}; }

/// A place in a picture [pixels]: x to the right, y down, from the upper left corner of the upright picture.
/// The centre of its first pixel is at (0.5, 0.5).
struct PixelPlace {
  double x = 0.0, y = 0.0;

  template <class Archive, class Self>
  static void fields(Archive& to, Self& place) {
    to.field("x", place.x);
    to.field("y", place.y);
  }
};

/// A photo and where the face lies in it: by four corners, or, taken square on, by two points.
struct Photo {
  std::string name;
  std::string file;  ///< relative to the folder of the case file
  PhotoView view = PhotoView::base;
  OpenedAt seen_from = OpenedAt::base;  ///< inside only: the side that is open
  /// Four or none: the face's corners at its coordinates (0, 0), (a, 0), (a, b), (0, b), where a and b are
  /// its extents along its first and second axis (see `face_axes`; inside: x and y).
  std::vector<PixelPlace> corners;
  /// Two or none, on a line along the face's first axis, in its direction.
  std::vector<PixelPlace> two_points;
  double length = 0.0;                           ///< between the two points [m]
  double start_first = 0.0, start_second = 0.0;  ///< face coordinates of the first of the two points [m]
  /// How much the lens bulges straight lines outwards [-]: r = s / (1 - bulge s^2) mends it, where s is the
  /// distance from the picture's centre in halves of its diagonal, and r that of a picture without bulge.
  double bulge = 0.0;
  double width = 0.0,
         height = 0.0;  ///< size of the picture that the places are counted in [pixels]; 0: unknown

  template <class Archive, class Self>
  static void fields(Archive& to, Self& photo) {
    to.field("name", photo.name);
    to.field("file", photo.file, "file");
    to.field("view", photo.view);
    to.field("seen_from", photo.seen_from);
    to.field("corners", photo.corners);
    to.field("two_points", photo.two_points);
    to.field("length", photo.length);
    to.field("start_first", photo.start_first);
    to.field("start_second", photo.start_second);
    to.field("bulge", photo.bulge, "bulge");
    to.field("width", photo.width);
    to.field("height", photo.height);
  }
};

/// The face whose coordinates a photo shows: of the inside those of base and top, x and y.
Face face_of(const Photo& photo);

/// Whether the face's first axis turns clockwise into its second as the photo shows it: so on base, left and
/// rear seen from outside, and on the inside seen from the base.
bool turns_clockwise(const Photo& photo);

/// Extents of the face of a device of that size along its first and second axis [m].
Eigen::Vector2d photo_extent(const Photo& photo, const Vec3& device_size);

}  // namespace tuft::geometry
