#include "tools/figure/field_map.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "tools/figure/axes.hpp"
#include "tools/figure/curve.hpp"
#include "tools/figure/field_parts.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/png.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

constexpr double kBarWidth = 18.0, kBarGap = 22.0, kMapText = 13.0;  // [px]
constexpr double kMostHeight = 660.0;                                // of the map [px]

// Room beside the map for the names of vents in its left or right edge.
double room_beside(const FieldMap& map, double edge) {
  double room = kAround;
  for (const MapVent& vent : map.vents)
    if (!vent.is_area && vent.from.x == edge && vent.to.x == edge)
      room = std::max(room, text_width(vent_label(vent), kVentName, true) + 26.0);
  return room;
}

MapFrame lay_out(const FieldMap& map, double top) {
  MapFrame frame;
  frame.range = colour_range(map);
  const Ends ends = map.low || map.high ? Ends::kept : Ends::widened;
  frame.ticks = nice_ticks(AxisKind::plain, frame.range.low, frame.range.high, 9, ends);
  frame.range = {frame.ticks.low, frame.ticks.high};
  const double wide = map.x.back() - map.x.front(), tall = map.y.back() - map.y.front();
  const double bar_room = kBarGap + kBarWidth + 10.0 + widest(frame.ticks.labels, kMapText);
  const double left_room = room_beside(map, map.x.front()), right_room = room_beside(map, map.x.back());
  const double free = std::max(100.0, map.width - 2.0 * kPageEdge - left_room - right_room - bar_room);
  frame.scale = std::min(free / wide, kMostHeight / tall);
  frame.left = map.x.front();
  frame.low = map.y.front();
  const double spare = free - frame.scale * wide;
  const double left = kPageEdge + left_room + 0.5 * spare, map_top = top + kAround;
  frame.map = {left, map_top, left + frame.scale * wide, map_top + frame.scale * tall};
  const double bar_left = frame.map.right + right_room + kBarGap;
  const double bar_bottom = std::max(frame.map.bottom, map_top + 150.0);
  frame.bar = {bar_left, map_top, bar_left + kBarWidth, bar_bottom};
  frame.bottom = bar_bottom + kAround;
  return frame;
}

// The cells without air, as shapes: sharp at any size, and in the paper's own grey.
void draw_blank(const FieldMap& map, const MapFrame& frame, Svg& svg) {
  const int nx = static_cast<int>(map.x.size()) - 1, ny = static_cast<int>(map.y.size()) - 1;
  std::vector<std::vector<Point>> rings;
  for (const std::vector<Corner>& outline : cell_outlines(nx, ny, blank_cells(map))) {
    std::vector<Point> ring;
    for (const Corner& corner : outline)
      ring.push_back(frame.at({map.x[corner.first], map.y[corner.second]}));
    rings.push_back(std::move(ring));
  }
  svg.rings(rings, {Paint::solid}, {{"data-part", "solid"}});
}

void draw_field(const FieldMap& map, const MapFrame& frame, Svg& svg) {
  if (map.values.empty()) return svg.rect(frame.map, {Paint::body});
  // Fields are smooth, and viewers blend what they stretch: fewer pixels than the page has are enough. Cells
  // with edges of their own need as many as the page has.
  const double share = map.smooth ? 0.5 : 1.0;
  const int width = std::max(1, static_cast<int>(std::lround(share * frame.map.width())));
  const int height = std::max(1, static_cast<int>(std::lround(share * frame.map.height())));
  const std::vector<std::uint8_t> pixels = field_pixels(map, frame.range, width, height);
  svg.image(frame.map, base64(png_of_indices(pixels, width, height, map_palette(map.kind))),
            {{"data-part", "field"}});
}

void draw_bar(const FieldMap& map, const MapFrame& frame, Svg& svg) {
  const std::vector<Rgb> palette = map_palette(map.kind);
  std::vector<std::uint8_t> pixels;
  for (std::size_t i = palette.size(); i-- > 0;) pixels.push_back(static_cast<std::uint8_t>(i));
  svg.image(frame.bar, base64(png_of_indices(pixels, 1, static_cast<int>(pixels.size()), palette)),
            {{"data-part", "colour-bar"}});
  svg.rect(frame.bar, {Paint::none, Paint::axis, 1.0});
  const Scale scale{frame.range.low, frame.range.high, frame.bar.bottom, frame.bar.top};
  for (std::size_t i = 0; i < frame.ticks.at.size(); ++i) {
    const double y = scale.at(frame.ticks.at[i]);
    svg.line({frame.bar.right, y}, {frame.bar.right + 5.0, y}, {Paint::none, Paint::axis});
    svg.text({frame.bar.right + 9.0, y + 0.36 * kMapText}, frame.ticks.labels[i], {kMapText});
  }
  const std::string title = with_unit(map.quantity, map.unit);
  const double right = svg.width() - kPageEdge;
  svg.text({right, frame.bar.top - 14.0}, fitted(title, 0.6 * svg.width(), kMapText, true),
           {kMapText, true, Anchor::end});
}

}  // namespace

std::string field_map(const FieldMap& map) {
  check_map(map);
  const Heading heading{map.title, map.subtitle, map.note};
  const MapFrame frame = lay_out(map, heading_bottom(heading, map.width) + 12.0);
  const std::vector<KeyEntry> key = map_key(map, frame.scale);
  const double inner = map.width - 2.0 * kPageEdge;
  const double key_bottom = frame.bottom + key_height(key, inner) + 6.0;
  Svg svg(map.width, key_bottom + note_height(heading, map.width) + 8.0, clean(map.title),
          map_description(map), map.surroundings);
  draw_heading(heading, svg);
  draw_field(map, frame, svg);
  draw_blank(map, frame, svg);
  svg.rect(frame.map, {Paint::none, Paint::chassis, 1.2});
  draw_streamlines(map, frame, svg);
  draw_parts(map, frame, svg);
  draw_dots(map, frame, svg);
  draw_bar(map, frame, svg);
  draw_vents(map, frame, svg);
  draw_key(key, {kPageEdge, frame.bottom}, inner, svg);
  draw_note(heading, key_bottom, svg);
  return svg.document();
}

}  // namespace tuft::figure
