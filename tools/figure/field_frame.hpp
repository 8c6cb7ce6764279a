// Where the parts of a field map stand on the page, and who draws them. For field_*.cpp only.
#pragma once

#include "tools/figure/axes.hpp"
#include "tools/figure/field_map.hpp"
#include "tools/figure/field_raster.hpp"

namespace tuft::figure {

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
