// The colours of all figures, for light and for dark surroundings.
#pragma once

#include <array>
#include <cstddef>

namespace tuft::figure {

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
struct Pot {
  const char* name;
  const char* light;
  const char* dark;
};

/// The pot of a paint; for `none` both colours are "none".
const Pot& pot(Paint paint);

/// The paint of the n-th series of a chart; they repeat after eight.
Paint series_paint(std::size_t number);

}  // namespace tuft::figure
