// From a place in a photo to the place on the device's face that it shows, and back.
#pragma once

#include <optional>

#include "geometry/device/photo.hpp"
#include "geometry/photo/homography.hpp"

namespace tuft::photo {

/// What a lens's bulge does to a picture of a size, and its mending about the picture's centre:
/// r = s / (1 - bulge s^2), with s and r in halves of the diagonal; back s = 2 r / (1 + sqrt(1 + 4 bulge
/// r^2)). The division model of lens distortion, one term: Fitzgibbon 2001 (from memory); the way back is
/// derived.
class Bulge {
 public:
  Bulge(double bulge, double width, double height);

  /// Where a place of the picture would be without the bulge [pixels].
  Vec2 mended(const Vec2& pixel) const;
  /// The place in the picture of one in a picture without bulge [pixels].
  Vec2 bulged(const Vec2& pixel) const;

 private:
  double bulge_;
  Vec2 centre_;
  double half_diagonal_;
};

/// From pixels of one photo to coordinates of its face and back.
class PhotoMap {
 public:
  PhotoMap(const Bulge& bulge, const Homography& face_to_pixel)
      : bulge_(bulge), to_pixel_(face_to_pixel), to_face_(face_to_pixel.inverse()) {}

  /// Face coordinates [m] that a place in the picture [pixels] shows; none beyond the face's horizon.
  std::optional<Vec2> face(const Vec2& pixel) const;
  /// Place in the picture [pixels] of face coordinates [m]; none where the camera can't see it.
  std::optional<Vec2> pixel(const Vec2& face) const;
  /// Lengths on the face of one pixel's two sides there [m], the shorter one first; none beyond the horizon.
  std::optional<Vec2> pixel_size(const Vec2& face) const;

 private:
  Bulge bulge_;
  Homography to_pixel_, to_face_;
};

/// The map of a photo as a case states it, for a picture of this size [pixels]. A copy of the picture in
/// another size is fine where the case states the size its places are counted in. None where the places state
/// no plane: corners that are not convex or run the wrong way round (see `fault_of`), coinciding points.
std::optional<PhotoMap> map_of(const geometry::Photo& photo, const geometry::Vec3& device_size, double width,
                               double height);

/// What is wrong with the places of a photo.
enum class PlaceFault {
  none,
  no_places,       ///< neither four corners nor two points
  not_convex,      ///< the corners, in their order, form no convex quadrilateral
  wrong_way,       ///< they run the other way round than this face's do, seen from outside
  points_coincide  ///< the two points are one, or the length is none
};
/// For the inside the corners' sense says from where it is seen; a photo that states it must agree.
PlaceFault fault_of(const geometry::Photo& photo);

/// The side that four corners of a photo of the inside say it was taken from, by their sense of turning.
geometry::OpenedAt seen_from(const geometry::Photo& photo);

}  // namespace tuft::photo
