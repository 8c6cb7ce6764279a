#include "tools/figure/colour_map.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::figure {
namespace {

// Lightness from start to end, and an arc in the plane of a and b. Chosen so that every colour on it can be
// shown in sRGB.
struct Arc {
  double light_start, light_end;
  double a, b, radius;            // circle
  double angle_start, angle_end;  // [degrees]
};
constexpr Arc kCool = {0.965, 0.30, 0.002, -0.0476, 0.077, 95.0, 276.0};
constexpr Arc kWarm = {0.965, 0.30, 0.071, 0.022, 0.073, 166.0, -98.0};

// Two straight arms from a middle without hue.
constexpr double kMiddleLight = 0.965, kEndLight = 0.42, kEndChroma = 0.108;
constexpr double kLowHue = 251.0, kHighHue = 45.0;  // [degrees]

Oklab on_arc(const Arc& arc, double place) {
  const double angle = base::kDegree * (arc.angle_start + place * (arc.angle_end - arc.angle_start));
  return {arc.light_start + place * (arc.light_end - arc.light_start), arc.a + arc.radius * std::cos(angle),
          arc.b + arc.radius * std::sin(angle)};
}

Oklab on_arms(double place) {
  const double out = std::abs(2.0 * place - 1.0);
  const double hue = base::kDegree * (place < 0.5 ? kLowHue : kHighHue);
  return {kMiddleLight + out * (kEndLight - kMiddleLight), out * kEndChroma * std::cos(hue),
          out * kEndChroma * std::sin(hue)};
}

}  // namespace

Oklab map_colour(MapKind kind, double place) {
  const double held = place >= 0.0 ? std::min(place, 1.0) : 0.0;
  if (kind == MapKind::diverging) return on_arms(held);
  return on_arc(kind == MapKind::cool ? kCool : kWarm, held);
}

Rgb map_rgb(MapKind kind, double place) { return rgb_of(linear_of_oklab(map_colour(kind, place))); }

}  // namespace tuft::figure
