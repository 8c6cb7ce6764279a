// Pictures as PNG, and pages as PDF, without a display.
#pragma once

#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

#include "tools/figure/colour.hpp"

namespace tuft::figure {

/// A picture could not be made.
class PngError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// What lies behind a picture.
enum class Ground { white, none };

/// The bytes of a PNG file of an SVG document drawn `width` pixels wide (1 .. 20000), height in proportion,
/// in its light colours. Throws std::invalid_argument for another width, PngError when the document cannot be
/// drawn.
std::string png_of_svg(const std::string& document, int width, Ground ground = Ground::white);

/// The bytes of a PDF file of one page of this size [mm] with an SVG document drawn over the whole of it,
/// letters as letters. The same document gives the same bytes. Throws PngError when the document cannot be
/// drawn.
std::string pdf_of_svg(const std::string& document, double width, double height);

/// The bytes of a PNG file of pixels that are places in a palette (1 .. 256 colours), row after row from the
/// top, width * height of them. Meant for palettes whose neighbours look alike, such as a colour map: the
/// filters then see a smooth picture. Throws std::invalid_argument when counts do not agree or a pixel has no
/// colour, PngError when it cannot be written.
std::string png_of_indices(const std::vector<std::uint8_t>& pixels, int width, int height,
                           const std::vector<Rgb>& palette);

/// Bytes as text (RFC 4648, base 64), for what lies within an SVG document or a page.
std::string base64(const std::string& bytes);

}  // namespace tuft::figure
