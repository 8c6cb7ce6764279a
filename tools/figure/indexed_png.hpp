// Pictures of few colours as PNG: one byte a pixel, and a palette.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tools/figure/colour.hpp"

namespace tuft::figure {

/// The bytes of a PNG file of pixels that are places in a palette (1 .. 256 colours), row after row from the
/// top, width * height of them. Meant for palettes whose neighbours look alike, such as a colour map: the
/// filters then see a smooth picture. Throws std::invalid_argument when counts do not agree or a pixel has no
/// colour, PngError when it cannot be written.
std::string png_of_indices(const std::vector<std::uint8_t>& pixels, int width, int height,
                           const std::vector<Rgb>& palette);

}  // namespace tuft::figure
