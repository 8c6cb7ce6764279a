#include "geometry/photo/picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tuft::photo {
namespace {

double decoded(double share) {
  return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
}

std::array<double, 256> light_table() {
  std::array<double, 256> table{};
  for (int i = 0; i < 256; ++i) table[i] = decoded(i / 255.0);
  return table;
}

}  // namespace

Picture picture_of_rgba(const std::uint8_t* rgba, int width, int height) {
  Picture out{width, height, {}};
  const std::size_t n =
      static_cast<std::size_t>(std::max(0, width)) * static_cast<std::size_t>(std::max(0, height));
  out.luminance.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    // Weights of the sRGB primaries in luminance (ITU-R BT.709, from memory), out of 10000.
    const unsigned sum = 2126U * rgba[4 * i] + 7152U * rgba[4 * i + 1] + 722U * rgba[4 * i + 2];
    out.luminance[i] = static_cast<std::uint8_t>((sum + 5000U) / 10000U);
  }
  return out;
}

double light_of(std::uint8_t value) {
  static const std::array<double, 256> table = light_table();
  return table[value];
}

double value_of(double light) {
  const double l = std::clamp(light, 0.0, 1.0);
  return 255.0 * (l <= 0.0031308 ? 12.92 * l : 1.055 * std::pow(l, 1.0 / 2.4) - 0.055);
}

std::optional<double> light_at(const Picture& picture, const Vec2& place) {
  const bool inside =
      place.x() >= 0.0 && place.y() >= 0.0 && place.x() <= picture.width && place.y() <= picture.height;
  if (!inside) return std::nullopt;
  const double x = std::clamp(place.x() - 0.5, 0.0, picture.width - 1.0);
  const double y = std::clamp(place.y() - 0.5, 0.0, picture.height - 1.0);
  const int left = static_cast<int>(x), above = static_cast<int>(y);
  const int right = std::min(left + 1, picture.width - 1), below = std::min(above + 1, picture.height - 1);
  const auto light = [&](int column, int row) {
    return light_of(picture.luminance[static_cast<std::size_t>(row) * picture.width + column]);
  };
  const double dx = x - left, dy = y - above;
  return (1.0 - dy) * ((1.0 - dx) * light(left, above) + dx * light(right, above)) +
         dy * ((1.0 - dx) * light(left, below) + dx * light(right, below));
}

}  // namespace tuft::photo
