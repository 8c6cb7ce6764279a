// A field on a grid as a map: colours, streamlines, vents, scale and gravity.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tools/figure/colour.hpp"
#include "tools/figure/marks.hpp"
#include "tools/figure/svg.hpp"

namespace tuft::figure {

/// A place in the plane of the map [m]: x to the right, y up the page.
struct Place {
  double x = 0.0, y = 0.0;
};

/// A vent on the map: a stretch of a wall, or (plan layers) a rectangle seen from its face.
struct MapVent {
  std::string name;
  VentState vent_state;
  Place from, to;  ///< ends of the stretch, or opposite corners of the rectangle
  bool is_area = false;
  std::string remark = {};  ///< written behind its name; empty: nothing
};

/// Something that lies in the field, as its outline.
struct MapPart {
  enum class Kind { fan_mouth, fan, fins };  ///< a disc, a fan seen from its edge, a stack of fins
  std::string name;
  Place from, to;  ///< opposite corners of its box
  Kind kind = Kind::fins;
};

/// A word on something in the field, written in or near its box.
struct MapWord {
  std::string text;
  Place from, to;  ///< opposite corners of the box
};

/// A point of air that is carried along.
struct MapDot {
  Place at;
  double value = 0.0;       ///< in the map's unit: its colour
  std::vector<Place> tail;  ///< where it has just been, oldest first; may be empty
};

/// A scalar field on cells between grid lines.
struct FieldMap {
  std::string title, subtitle;
  std::string quantity, unit;
  std::vector<double> x, y;    ///< grid lines [m], rising, at least 2 each
  std::vector<double> values;  ///< one a cell, x fastest, from the lowest row up; in `unit`; not finite: no
                               ///< value. None at all: only dots have colours, and low and high are given
  std::vector<bool> solid;     ///< one a cell, or empty: no solid
  MapKind kind = MapKind::cool;
  std::optional<double> low, high;  ///< ends of the colours; what is not given follows the values
  bool smooth = true;               ///< values blend between cell centres; false: one colour a cell
  std::vector<std::vector<Place>> streamlines;  ///< in the direction of the flow
  std::vector<MapDot> dots;
  std::string dot_words;  ///< what they are, for the key
  std::vector<MapVent> vents;
  std::vector<MapPart> parts;
  std::vector<MapWord> words;
  std::optional<Gravity> gravity;  ///< in the view of the map
  std::string note;
  double width = 900.0;  ///< [px], 480..8000; the height follows
  Surroundings surroundings = Surroundings::adaptive;
  geometry::UnitSystem units = geometry::UnitSystem::metric;  ///< of the scale bar
};

/// The map as an SVG document, to scale. The colours are an embedded PNG of a pixel for every two of the
/// page, covered where there is no air; a colour bar with round ticks and the unit stands beside it. Throws
/// std::invalid_argument when something above is not kept.
std::string field_map(const FieldMap& map);

}  // namespace tuft::figure
