#include "tools/figure/colour.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::figure {
namespace {

using Matrix = std::array<double, 9>;

std::array<double, 3> times(const Matrix& m, double x, double y, double z) {
  return {m[0] * x + m[1] * y + m[2] * z, m[3] * x + m[4] * y + m[5] * z, m[6] * x + m[7] * y + m[8] * z};
}

constexpr Matrix kFromLab = {1.0,           0.3963377774, 0.2158037573,  1.0,          -0.1055613458,
                             -0.0638541728, 1.0,          -0.0894841775, -1.2914855480};
constexpr Matrix kFromCones = {4.0767416621,  -3.3077115913, 0.2309699292,  -1.2684380046, 2.6097574011,
                               -0.3413193965, -0.0041960863, -0.7034186147, 1.7076147010};

std::uint8_t byte_of(double linear) {
  const double encoded = encoded_of(std::clamp(linear, 0.0, 1.0));
  return static_cast<std::uint8_t>(std::lround(255.0 * encoded));
}

// Lightness from start to end, and an arc in the plane of a and b. Chosen so that every colour on it can be
// shown in sRGB.
struct Arc {
  double light_start, light_end;
  double a, b, radius;            // circle
  double angle_start, angle_end;  // [degrees]
};
constexpr Arc kCool = {0.965, 0.30, 0.002, -0.0476, 0.077, 95.0, 276.0};
constexpr Arc kWarm = {0.965, 0.30, 0.071, 0.022, 0.073, 166.0, -98.0};

Oklab on_arc(const Arc& arc, double place) {
  const double angle = numerics::kDegree * (arc.angle_start + place * (arc.angle_end - arc.angle_start));
  return {arc.light_start + place * (arc.light_end - arc.light_start), arc.a + arc.radius * std::cos(angle),
          arc.b + arc.radius * std::sin(angle)};
}

}  // namespace

double encoded_of(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1.0 / 2.4) - 0.055;
}

Rgb rgb_of(const Linear& colour) {
  return {byte_of(colour.red), byte_of(colour.green), byte_of(colour.blue)};
}

Linear linear_of_oklab(const Oklab& colour) {
  const auto root = times(kFromLab, colour.light, colour.a, colour.b);
  const auto cube = [](double value) { return value * value * value; };
  const auto rgb = times(kFromCones, cube(root[0]), cube(root[1]), cube(root[2]));
  return {rgb[0], rgb[1], rgb[2]};
}

Oklab map_colour(MapKind kind, double place) {
  const double held = place >= 0.0 ? std::min(place, 1.0) : 0.0;
  return on_arc(kind == MapKind::cool ? kCool : kWarm, held);
}

Rgb map_rgb(MapKind kind, double place) { return rgb_of(linear_of_oklab(map_colour(kind, place))); }

}  // namespace tuft::figure
