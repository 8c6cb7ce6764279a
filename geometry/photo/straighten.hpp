// A turned rectangle of a face, taken out of a photo and seen square on, in even light.
#pragma once

#include <vector>

#include "geometry/photo/photo_map.hpp"
#include "geometry/photo/picture.hpp"

namespace tuft::photo {

/// A rectangle on a face, turned about its centre.
struct Patch {
  Vec2 centre = Vec2::Zero();        ///< face coordinates [m]
  double width = 0.0, height = 0.0;  ///< [m]
  double angle = 0.0;                ///< from the face's first axis towards its second [rad]

  /// Face coordinates of a place in it: shares of its width and height, from its corner.
  Vec2 place(double along, double across) const;
};

/// The light of a patch, sampled twice in each pixel of the photo: row by row along its height, each row
/// along its width.
struct Straight {
  int columns = 0, rows = 0;
  Vec2 cell = Vec2::Zero();   ///< size of a sample on the face [m]
  Vec2 pixel = Vec2::Zero();  ///< size of a pixel of the photo on the face, the shorter side first [m]
  std::vector<float> light;   ///< columns * rows; 1 is white, or after `evened` the shell

  std::size_t index(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column);
  }
};

/// Takes the patch out. None where part of it lies outside the picture or it is no rectangle.
std::optional<Straight> straighten(const Picture& picture, const PhotoMap& map, const Patch& patch);

/// What is light and what is dark in a patch.
struct Tones {
  /// Between-class variance of the best split over the whole variance [-] (Otsu 1979, from memory): a single
  /// bell of noise has 2/pi = 0.64 and evenly spread light 3/4 (derived); two clear tones are near 1.
  double separation = 0.0;
  double dark = 0.0;   ///< light of the holes [-], where that of the shell is 1
  double split = 0.0;  ///< light between the classes [-]
};

/// Divides the light by that of the shell, a second-order polynomial over the patch fitted to the lighter
/// class, so that a lamp to one side makes no holes, and takes the noise of single pixels out. Returns the
/// tones that are left.
Tones even_light(Straight& patch);

}  // namespace tuft::photo
