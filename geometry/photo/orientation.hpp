// How a camera was held: the eight ways a picture file says its pixels are to be turned before they are
// shown.
#pragma once

#include "geometry/photo/picture.hpp"

namespace tuft::photo {

/// The EXIF tag Orientation, 1 to 8: where the first row and the first column of the stored pixels lie in the
/// upright picture (JEITA CP-3451, from memory). Any other number counts as 1, upright.
///   1 top, left   2 top, right   3 bottom, right   4 bottom, left
///   5 left, top   6 right, top   7 right, bottom   8 left, bottom
struct Orientation {
  int tag = 1;

  /// Whether width and height change places.
  bool swaps() const { return tag >= 5 && tag <= 8; }
};

struct PixelSize {
  int width = 0, height = 0;
};

/// Size of the upright picture of stored pixels of this size.
PixelSize upright_size(Orientation orientation, PixelSize stored);

/// Place in the upright picture of a place in stored pixels of this size [pixels].
Vec2 upright_place(Orientation orientation, PixelSize stored, const Vec2& place);

/// Column and row in the upright picture of a stored pixel.
struct PixelIndex {
  int column = 0, row = 0;
};
PixelIndex upright_pixel(Orientation orientation, PixelSize stored, PixelIndex pixel);

/// The picture, upright.
Picture upright(const Picture& stored, Orientation orientation);

}  // namespace tuft::photo
