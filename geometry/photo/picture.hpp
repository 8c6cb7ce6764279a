// Plain pixels: how light each one is. What a picture file holds beside them never gets here.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "geometry/photo/homography.hpp"

namespace tuft::photo {

/// The lightness of a picture's pixels, row by row from the top, each row from the left: 0 black, 255 white,
/// in the sRGB encoding that cameras and screens use.
struct Picture {
  int width = 0, height = 0;            ///< [pixels]
  std::vector<std::uint8_t> luminance;  ///< width * height of them

  bool is_sound() const {
    return width > 0 && height > 0 &&
           luminance.size() == static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  }
};

/// Of pixels of four bytes each: red, green, blue and one that is passed over.
Picture picture_of_rgba(const std::uint8_t* rgba, int width, int height);

/// The light [-] of an sRGB value, 0 to 1, and the value of a light (0..255, not rounded). IEC 61966-2-1,
/// from memory.
double light_of(std::uint8_t value);
double value_of(double light);

/// The light at a place between pixels, by linear interpolation; none outside the picture.
std::optional<double> light_at(const Picture& picture, const Vec2& place);

}  // namespace tuft::photo
