// SVG to PNG without a display.
#pragma once

#include <stdexcept>
#include <string>

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

}  // namespace tuft::figure
