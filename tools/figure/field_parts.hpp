// Where the parts of a field map stand on the page, its pixels and words. For field_*.cpp only.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tools/figure/axes.hpp"
#include "tools/figure/field_map.hpp"
#include "tools/figure/heading.hpp"

namespace tuft::figure {

/// Ends of the colours of a map.
struct ColourRange {
  double low = 0.0, high = 1.0;
};

/// Throws std::invalid_argument, naming what is wrong.
void check_map(const FieldMap& map);

/// Ends of the colours: as given, else those of the values.
ColourRange colour_range(const FieldMap& map);

/// Alt text.
std::string map_description(const FieldMap& map);

/// What is written at a vent: its name, shortened where it is long, and its remark in brackets.
std::string vent_label(const MapVent& vent);

/// Entries of the key; `scale` in px/m.
std::vector<KeyEntry> map_key(const FieldMap& map, double scale);

/// Colours of a kind of map in even steps, from low to high: the palette of its pictures.
std::vector<Rgb> map_palette(MapKind kind);

/// Pixels of the map as places in its palette, row after row from the top of the page, `width` of them
/// across. Cells without a value are painted like their nearest neighbours, so that a picture that is
/// stretched with blending keeps its colours up to the walls; whoever draws it covers them. The map has been
/// checked.
std::vector<std::uint8_t> field_pixels(const FieldMap& map, const ColourRange& range, int width, int height);

/// One a cell: whether it has no value to show, because it is solid or its value is not finite.
std::vector<bool> blank_cells(const FieldMap& map);

constexpr double kVentName = 12.0;      ///< size of vents' names [px]
constexpr double kMostName = 170.0;     ///< width of a vent's name; longer ones are shortened [px]
constexpr double kAround = 40.0;        ///< room for vents and their names around the map [px]
constexpr double kLineTolerance = 0.2;  ///< how far a simplified line may leave its way [px]

/// The layout of a map: MapFrame::at() takes a place in the field to the page.
struct MapFrame {
  Box map;
  Box bar;
  double scale = 1.0;            // [px/m]
  double left = 0.0, low = 0.0;  // [m] of the map's lower left corner
  double bottom = 0.0;           // of the drawing [px]
  Ticks ticks;
  ColourRange range;

  Point at(const Place& place) const {
    return {map.left + (place.x - left) * scale, map.bottom - (place.y - low) * scale};
  }
};

/// Streamlines with their heads.
void draw_streamlines(const FieldMap& map, const MapFrame& frame, Svg& svg);

/// Points of air with their tails.
void draw_dots(const FieldMap& map, const MapFrame& frame, Svg& svg);

/// Outlines of fans and fins.
void draw_parts(const FieldMap& map, const MapFrame& frame, Svg& svg);

/// Vents with marks and names, and the words on what lies in the field.
void draw_vents(const FieldMap& map, const MapFrame& frame, Svg& svg);

}  // namespace tuft::figure
