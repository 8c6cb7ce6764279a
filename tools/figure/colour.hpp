// The colours of all figures, for light and for dark surroundings, and the maps of fields.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace tuft::figure {

/// A colour of a pixel, as sRGB bytes.
struct Rgb {
  std::uint8_t red = 0, green = 0, blue = 0;
};

/// A colour in linear light of the sRGB primaries, 0..1 each when it can be shown.
struct Linear {
  double red = 0.0, green = 0.0, blue = 0.0;
};

/// A colour in OKLab: lightness 0..1, green to red, blue to yellow.
struct Oklab {
  double light = 0.0, a = 0.0, b = 0.0;
};

/// sRGB's transfer curve (IEC 61966-2-1, from memory; confirmed against public code).
double encoded_of(double linear);

/// Linear light as bytes; what cannot be shown is clamped.
Rgb rgb_of(const Linear& colour);

/// From OKLab after B. Ottosson, "A perceptual color space for image processing" (2020), matrices as
/// transcribed in public code.
Linear linear_of_oklab(const Oklab& colour);

enum class MapKind {
  cool,  ///< sand, sea green, indigo. Speeds, flows
  warm   ///< sand, coral, aubergine. Temperatures
};

/// The colour at a place, 0..1; held to the ends outside, and for NaN the start.
Oklab map_colour(MapKind kind, double place);

/// The same as bytes.
Rgb map_rgb(MapKind kind, double place);

/// What a colour is for. Roles and series also differ by shape or dash: no meaning rests on colour alone.
enum class Paint {
  none,
  paper,       ///< the ground
  text,        ///< words
  muted,       ///< words of second rank
  axis,        ///< axis lines and ticks
  grid,        ///< grid lines
  chassis,     ///< outline of the device
  body,        ///< its inside
  zone,        ///< outlines of zones
  part,        ///< fans and fins
  skin,        ///< patches of the outer surface
  solid,       ///< solid cells of a field
  stream,      ///< streamlines over a map: the same in light and dark, as the map is
  stream_rim,  ///< their rim
  mark,        ///< event markers and thresholds
  intake,
  exhaust,
  both_ways,
  idle,
  shut,
  series_1,
  series_2,
  series_3,
  series_4,
  series_5,
  series_6,
  series_7,
  series_8
};

constexpr std::size_t kPaints = static_cast<std::size_t>(Paint::series_8) + 1;
constexpr std::size_t kSeriesPaints = 8;

/// One paint: its name in style rules, and its colour on light and on dark paper (#rrggbb).
struct PaintColours {
  const char* name;
  const char* light;
  const char* dark;
};

// In the order of the enumeration.
inline constexpr std::array<PaintColours, kPaints> kPaintColours = {
    {{"none", "none", "none"},          {"paper", "#fdfdfb", "#14181c"},
     {"text", "#1b2228", "#eceff1"},    {"muted", "#525d66", "#a9b4bc"},
     {"axis", "#8a949c", "#76828b"},    {"grid", "#e4e7e9", "#2b3238"},
     {"chassis", "#39434b", "#c3ccd3"}, {"body", "#f3f4f2", "#1d2328"},
     {"zone", "#b3bbc1", "#505b63"},    {"part", "#7a868f", "#8d99a2"},
     {"skin", "#d9b77a", "#8a6d3a"},    {"solid", "#c9ced2", "#3a4249"},
     {"stream", "#1b2228", "#1b2228"},  {"stream-rim", "#fdfdfb", "#fdfdfb"},
     {"mark", "#3d4850", "#c9d1d7"},    {"intake", "#1f6fb8", "#4d93d8"},
     {"exhaust", "#b15a00", "#dd8434"}, {"both-ways", "#560070", "#e6b3fb"},
     {"idle", "#5d6a6c", "#949d9f"},    {"shut", "#14191c", "#e9f4f4"},
     {"s1", "#1f6fb8", "#5fa8ea"},      {"s2", "#b15a00", "#e8914a"},
     {"s3", "#1f7a4d", "#6fcf9b"},      {"s4", "#6a2a86", "#d5a8ea"},
     {"s5", "#806000", "#dcbb4e"},      {"s6", "#ad2a5c", "#f28fb4"},
     {"s7", "#446170", "#9dbccb"},      {"s8", "#1b2228", "#eceff1"}}};

/// The pot of a paint; for `none` both colours are "none".
inline const PaintColours& paint_colours(Paint paint) {
  return kPaintColours[static_cast<std::size_t>(paint)];
}

/// The paint of the n-th series of a chart; they repeat after eight.
inline Paint series_paint(std::size_t number) {
  return static_cast<Paint>(static_cast<std::size_t>(Paint::series_1) + number % kSeriesPaints);
}

}  // namespace tuft::figure
