// The pixels of a field map.
#pragma once

#include <cstdint>
#include <vector>

#include "tools/figure/field_map.hpp"

namespace tuft::figure {

/// Ends of the colours of a map.
struct ColourRange {
  double low = 0.0, high = 1.0;
};

/// Colours of a kind of map in even steps, from low to high: the palette of its pictures.
std::vector<Rgb> map_palette(MapKind kind);

/// Pixels of the map as places in its palette, row after row from the top of the page, `width` of them
/// across. Cells without a value are painted like their nearest neighbours, so that a picture that is
/// stretched with blending keeps its colours up to the walls; whoever draws it covers them. The map has been
/// checked.
std::vector<std::uint8_t> field_pixels(const FieldMap& map, const ColourRange& range, int width, int height);

/// One a cell: whether it has no value to show, because it is solid or its value is not finite.
std::vector<bool> blank_cells(const FieldMap& map);

}  // namespace tuft::figure
