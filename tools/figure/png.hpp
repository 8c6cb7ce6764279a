// SVG to PNG without a display, and raw pixels to PNG.
#pragma once

#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

namespace tuft::figure {

/// A picture could not be made.
class PngError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The bytes of a PNG file of an SVG document drawn `width` pixels wide (1 .. 20000), height in proportion,
/// in its light colours. Throws std::invalid_argument for another width, PngError when the document cannot be
/// drawn.
std::string png_of_svg(const std::string& document, int width);

/// A colour of a pixel.
struct Rgb {
  std::uint8_t red = 0, green = 0, blue = 0;
};

/// The bytes of a PNG file of pixels, row after row from the top, width * height of them. Throws
/// std::invalid_argument when the counts do not agree, PngError when it cannot be written.
std::string png_of_pixels(const std::vector<Rgb>& pixels, int width, int height);

}  // namespace tuft::figure
