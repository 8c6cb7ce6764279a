// The pixels of a field map.
#pragma once

#include <vector>

#include "tools/figure/field_map.hpp"

namespace tuft::figure {

/// Ends of the colours of a map.
struct ColourRange {
  double low = 0.0, high = 1.0;
};

/// Pixels of the map, row after row from the top of the page: colours of the field where it has values, the
/// grey of solids where not. The pixels are squares; `width` of them across. The map has been checked.
std::vector<Rgb> field_pixels(const FieldMap& map, const ColourRange& range, int width, int height);

}  // namespace tuft::figure
