#include "tests/figure/sight.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tuft::test {
namespace {

using Matrix = std::array<double, 9>;

std::array<double, 3> times(const Matrix& m, double x, double y, double z) {
  return {m[0] * x + m[1] * y + m[2] * z, m[3] * x + m[4] * y + m[5] * z, m[6] * x + m[7] * y + m[8] * z};
}

constexpr Matrix kToCones = {0.4122214708, 0.5363325363, 0.0514459929, 0.2119034982, 0.6806995451,
                             0.1073969566, 0.0883024619, 0.2817188376, 0.6299787005};
constexpr Matrix kToLab = {0.2104542553, 0.7936177850, -0.0040720468, 1.9779984951, -2.4285922050,
                           0.4505937099, 0.0259040371, 0.7827717662,  -0.8086757660};

constexpr Matrix kNoLong = {0.152286, 1.052583,  -0.204868, 0.114503, 0.786281,
                            0.099216, -0.003882, -0.048116, 1.051998};
constexpr Matrix kNoMedium = {0.367322, 0.860646,  -0.227968, 0.280085, 0.672501,
                              0.047413, -0.011820, 0.042940,  0.968881};
constexpr Matrix kNoShort = {1.255528, -0.076749, -0.178779, -0.078411, 0.930809,
                             0.147602, 0.004733,  0.691367,  0.303900};

double luminance(const Linear& colour) {
  return 0.2126 * colour.red + 0.7152 * colour.green + 0.0722 * colour.blue;
}

}  // namespace

double linear_of(double encoded) {
  return encoded <= 0.04045 ? encoded / 12.92 : std::pow((encoded + 0.055) / 1.055, 2.4);
}

Linear linear_of_rgb(const Rgb& colour) {
  return {linear_of(colour.red / 255.0), linear_of(colour.green / 255.0), linear_of(colour.blue / 255.0)};
}

Linear linear_of_hex(const std::string& hex) {
  const auto part = [&](std::size_t at) {
    return static_cast<std::uint8_t>(std::stoi(hex.substr(at, 2), nullptr, 16));
  };
  return linear_of_rgb({part(1), part(3), part(5)});
}

Oklab oklab_of(const Linear& colour) {
  const auto cones = times(kToCones, colour.red, colour.green, colour.blue);
  const auto lab = times(kToLab, std::cbrt(cones[0]), std::cbrt(cones[1]), std::cbrt(cones[2]));
  return {lab[0], lab[1], lab[2]};
}

double distance(const Oklab& a, const Oklab& b) {
  return std::sqrt((a.light - b.light) * (a.light - b.light) + (a.a - b.a) * (a.a - b.a) +
                   (a.b - b.b) * (a.b - b.b));
}

Linear seen(const Linear& colour, Vision vision) {
  if (vision == Vision::full) return colour;
  const Matrix& matrix = vision == Vision::no_long_cones     ? kNoLong
                         : vision == Vision::no_medium_cones ? kNoMedium
                                                             : kNoShort;
  const auto rgb = times(matrix, colour.red, colour.green, colour.blue);
  const auto held = [](double value) { return std::clamp(value, 0.0, 1.0); };
  return {held(rgb[0]), held(rgb[1]), held(rgb[2])};
}

double contrast(const Linear& a, const Linear& b) {
  const double first = luminance(a) + 0.05, second = luminance(b) + 0.05;
  return std::max(first, second) / std::min(first, second);
}

}  // namespace tuft::test
