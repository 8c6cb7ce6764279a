// What the files of the field map share. For field_*.cpp only.
#pragma once

#include <string>
#include <vector>

#include "tools/figure/field_map.hpp"
#include "tools/figure/field_raster.hpp"
#include "tools/figure/key.hpp"

namespace tuft::figure {

/// Throws std::invalid_argument, naming what is wrong.
void check_map(const FieldMap& map);

/// Ends of the colours: as given, else those of the values, about zero for a diverging map.
ColourRange colour_range(const FieldMap& map);

/// "Speed [m/s]".
std::string quantity_text(const FieldMap& map);

/// Alt text.
std::string map_description(const FieldMap& map);

/// Entries of the key; `scale` in px/m.
std::vector<KeyEntry> map_key(const FieldMap& map, double scale);

}  // namespace tuft::figure
