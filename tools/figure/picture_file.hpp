// Picture files read: PNG and JPEG. Pixels come out, upright; whatever else the file holds (place, date,
// camera) does not.
#pragma once

#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

#include "geometry/photo/picture.hpp"

namespace tuft::figure {

/// Bytes that are no picture that can be read. The message says in plain words what they are.
class PictureError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A colour picture, upright.
struct ColourPicture {
  int width = 0, height = 0;  ///< [pixels]
  int full_width = 0,
      full_height = 0;            ///< of the picture in the file, upright: what places of a case count in
  std::vector<std::uint8_t> rgb;  ///< 3 * width * height, rows from the top
};

/// The picture in the bytes of a PNG or JPEG file, turned upright by its EXIF orientation (of a PNG: the
/// chunk eXIf), and made smaller until its longer side has at most `longest` pixels (>= 16). A see-through
/// PNG is laid on white. Throws PictureError for anything else: another format, a broken file, a side below
/// 16 or above 30000 pixels.
ColourPicture read_picture(const std::string& bytes, int longest);

/// Its lightness.
photo::Picture luminance_of(const ColourPicture& picture);

/// The bytes of a JPEG file of the pixels alone; quality 1 .. 100.
std::string jpeg_of(const ColourPicture& picture, int quality);

}  // namespace tuft::figure
