#include "tools/figure/field_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "tools/figure/axes.hpp"
#include "tools/figure/curve.hpp"
#include "tools/figure/field_parts.hpp"
#include "tools/figure/field_raster.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/indexed_png.hpp"
#include "tools/figure/key.hpp"
#include "tools/figure/outline.hpp"
#include "tools/figure/placer.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

constexpr double kBarWidth = 18.0, kBarGap = 22.0, kText = 13.0, kVentName = 12.0;  // [px]
constexpr double kAround = 40.0;        // room for vents and their names around the map [px]
constexpr double kDotRadius = 2.6;      // of a point of air [px]
constexpr double kMostHeight = 660.0;   // of the map [px]
constexpr double kLineTolerance = 0.2;  // how far a simplified streamline may leave its way [px]
constexpr double kMostName = 170.0;     // width of a vent's name; longer ones are shortened [px]

struct Frame {
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

double widest_tick(const Ticks& ticks) {
  double width = 0.0;
  for (const std::string& label : ticks.labels) width = std::max(width, text_width(label, kText));
  return width;
}

// Room beside the map for the names of vents in its left or right edge.
double room_beside(const FieldMap& map, double edge) {
  double room = kAround;
  for (const MapVent& vent : map.vents)
    if (!vent.is_area && vent.from.x == edge && vent.to.x == edge)
      room = std::max(room, std::min(kMostName, text_width(vent.name, kVentName, true)) + 26.0);
  return room;
}

Frame lay_out(const FieldMap& map, double top) {
  Frame frame;
  frame.range = colour_range(map);
  const Ends ends = map.low || map.high ? Ends::kept : Ends::widened;
  frame.ticks = nice_ticks(AxisKind::plain, frame.range.low, frame.range.high, 9, ends);
  frame.range = {frame.ticks.low, frame.ticks.high};
  const double wide = map.x.back() - map.x.front(), tall = map.y.back() - map.y.front();
  const double bar_room = kBarGap + kBarWidth + 10.0 + widest_tick(frame.ticks);
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
void draw_blank(const FieldMap& map, const Frame& frame, Svg& svg) {
  const int nx = static_cast<int>(map.x.size()) - 1, ny = static_cast<int>(map.y.size()) - 1;
  std::vector<std::vector<Point>> rings;
  for (const std::vector<Corner>& outline : cell_outlines(nx, ny, blank_cells(map))) {
    std::vector<Point> ring;
    for (const Corner& corner : outline)
      ring.push_back(frame.at(
          {map.x[static_cast<std::size_t>(corner.first)], map.y[static_cast<std::size_t>(corner.second)]}));
    rings.push_back(std::move(ring));
  }
  svg.rings(rings, {Paint::solid}, {{"data-part", "solid"}});
}

void draw_field(const FieldMap& map, const Frame& frame, Svg& svg) {
  if (map.values.empty()) {
    svg.rect(frame.map, {Paint::body});
    draw_blank(map, frame, svg);
    svg.rect(frame.map, {Paint::none, Paint::chassis, 1.2});
    return;
  }
  // Fields are smooth, and viewers blend what they stretch: fewer pixels than the page has are enough. Cells
  // with edges of their own need as many as the page has.
  const double share = map.smooth ? 0.5 : 1.0;
  const int width = std::max(1, static_cast<int>(std::lround(share * frame.map.width())));
  const int height = std::max(1, static_cast<int>(std::lround(share * frame.map.height())));
  const std::vector<std::uint8_t> pixels = field_pixels(map, frame.range, width, height);
  svg.image(frame.map, png_of_indices(pixels, width, height, map_palette(map.kind)),
            {{"data-part", "field"}});
  draw_blank(map, frame, svg);
  svg.rect(frame.map, {Paint::none, Paint::chassis, 1.2});
}

void draw_bar(const FieldMap& map, const Frame& frame, Svg& svg) {
  const std::vector<Rgb> palette = map_palette(map.kind);
  std::vector<std::uint8_t> pixels;
  for (std::size_t i = palette.size(); i-- > 0;) pixels.push_back(static_cast<std::uint8_t>(i));
  svg.image(frame.bar, png_of_indices(pixels, 1, static_cast<int>(pixels.size()), palette),
            {{"data-part", "colour-bar"}});
  svg.rect(frame.bar, {Paint::none, Paint::axis, 1.0});
  const Scale scale{frame.range.low, frame.range.high, frame.bar.bottom, frame.bar.top};
  for (std::size_t i = 0; i < frame.ticks.at.size(); ++i) {
    const double y = scale.at(frame.ticks.at[i]);
    svg.line({frame.bar.right, y}, {frame.bar.right + 5.0, y}, {Paint::none, Paint::axis});
    svg.text({frame.bar.right + 9.0, y + 0.36 * kText}, frame.ticks.labels[i], {kText});
  }
  const std::string title = quantity_text(map);
  const double right = svg.width() - kPageEdge;
  svg.text({right, frame.bar.top - 14.0}, fitted(title, 0.6 * svg.width(), kText, true),
           {kText, true, Anchor::end});
}

// Three corners of an arrowhead where the line has gone a share of its way on the page; none on a short line.
std::vector<Point> head_at(const std::vector<Point>& line, double share) {
  double length = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i)
    length += std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
  if (length < 24.0) return {};
  double gone = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const double step = std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
    gone += step;
    if (gone < share * length || step <= 0.0) continue;
    const double ux = (line[i].x - line[i - 1].x) / step, uy = (line[i].y - line[i - 1].y) / step;
    const double back = gone - share * length;
    const Point at{line[i].x - back * ux, line[i].y - back * uy};
    const Point foot{at.x - 4.0 * ux, at.y - 4.0 * uy};
    return {{at.x + 4.0 * ux, at.y + 4.0 * uy},
            {foot.x - 3.4 * uy, foot.y + 3.4 * ux},
            {foot.x + 3.4 * uy, foot.y - 3.4 * ux}};
  }
  return {};
}

// Each line is drawn twice, so that it shows on light and on dark colours alike.
void draw_streamlines(const FieldMap& map, const Frame& frame, Svg& svg) {
  std::vector<std::vector<Point>> pieces, heads;
  for (const std::vector<Place>& streamline : map.streamlines) {
    std::vector<Point> line;
    for (const Place& place : streamline) line.push_back(frame.at(place));
    for (const std::vector<Point>& piece : clipped_line(line, frame.map)) {
      if (piece.size() < 2) continue;
      if (std::vector<Point> head = head_at(piece, 0.5); !head.empty()) heads.push_back(std::move(head));
      pieces.push_back(simplified(piece, kLineTolerance));
    }
  }
  svg.open({{"data-part", "streamlines"}});
  svg.curves(pieces, {Paint::none, Paint::stream_rim, 2.6, {}, 0.55});
  svg.curves(pieces, {Paint::none, Paint::stream, 1.2});
  svg.rings(heads, {Paint::stream, Paint::stream_rim, 0.8}, {{"data-part", "heads"}});
  svg.close();
}

// Points with where they have just been. The map's colours; the rim shows them where they are pale.
void draw_dots(const FieldMap& map, const Frame& frame, Svg& svg) {
  if (map.dots.empty()) return;
  svg.open({{"data-part", "dots"}});
  std::vector<std::vector<Point>> tails;
  for (const MapDot& dot : map.dots) {
    std::vector<Point> line;
    for (const Place& place : dot.tail) line.push_back(frame.at(place));
    for (const std::vector<Point>& piece : clipped_line(line, frame.map))
      if (piece.size() > 1) tails.push_back(simplified(piece, kLineTolerance));
  }
  svg.curves(tails, {Paint::none, Paint::muted, 1.3, {}, 0.7});
  for (const MapDot& dot : map.dots) {
    const double place = (dot.value - frame.range.low) / (frame.range.high - frame.range.low);
    svg.spot(frame.at(dot.at), kDotRadius, map_rgb(map.kind, place), Paint::text);
  }
  svg.close();
}

Box page_box(const Frame& frame, const Place& from, const Place& to) {
  const Point a = frame.at(from), b = frame.at(to);
  return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
}

// The outline of a box, and of the disc in its middle, as closed lines.
std::vector<Point> box_line(const Box& box) {
  return {{box.left, box.top},
          {box.right, box.top},
          {box.right, box.bottom},
          {box.left, box.bottom},
          {box.left, box.top}};
}

std::vector<Point> circle_line(const Box& box) {
  constexpr int kSides = 72;
  constexpr double kTurn = 6.28318530717958648;
  const double radius = 0.5 * std::min(box.width(), box.height());
  std::vector<Point> line;
  for (int side = 0; side <= kSides; ++side)
    line.push_back({box.centre().x + radius * std::cos(kTurn * side / kSides),
                    box.centre().y + radius * std::sin(kTurn * side / kSides)});
  return line;
}

// Outlines that show on light and on dark colours alike; no part of them leaves the map.
void draw_parts(const FieldMap& map, const Frame& frame, Svg& svg) {
  for (const MapPart& part : map.parts) {
    const Box box = page_box(frame, part.from, part.to);
    const Tags tags = {{"data-map-part", clean(part.name)}};
    const std::vector<std::vector<Point>> outline =
        clipped_line(part.kind == MapPart::Kind::fan_mouth ? circle_line(box) : box_line(box), frame.map);
    for (const auto& [paint, width] : {std::pair{Paint::stream_rim, 3.0}, std::pair{Paint::stream, 1.1}}) {
      const Look look{Paint::none, paint, width,
                      paint == Paint::stream ? std::vector<double>{5.0, 3.0} : std::vector<double>{},
                      paint == Paint::stream ? 1.0 : 0.55};
      for (const std::vector<Point>& line : outline)
        svg.polyline(line, look, paint == Paint::stream ? tags : Tags{});
    }
  }
}

// Words lie in their box where they fit into it, else beside it.
void draw_words(const FieldMap& map, const Frame& frame, Placer& placer, Svg& svg) {
  for (const MapWord& word : map.words) {
    const std::string text = fitted(isolated(word.text), kMostName, kVentName);
    const double width = text_width(text, kVentName), height = 1.06 * kVentName;
    Box box = page_box(frame, word.from, word.to);
    box = {std::max(box.left, frame.map.left), std::max(box.top, frame.map.top),
           std::min(box.right, frame.map.right), std::min(box.bottom, frame.map.bottom)};
    // A strip a little lower than the letters still holds them; beside it they might lie on something else.
    const double lacks = height + 6.0 - box.height();
    if (lacks > 0.0 && lacks < 9.0)
      box = {box.left, box.top - 0.5 * lacks, box.right, box.bottom + 0.5 * lacks};
    std::optional<Placed> placed;
    if (box.width() > width + 6.0 && box.height() > height + 5.0)
      placed = placer.place_within(box, width, height);
    if (!placed) {
      const Point middle = box.centre();
      placed = placer.place({middle.x - 3.0, middle.y - 3.0, middle.x + 3.0, middle.y + 3.0}, width, height,
                            frame.map);
    }
    if (!placed) continue;
    svg.text({placed->box.left, placed->box.top + 0.84 * kVentName}, text,
             {kVentName, false, Anchor::start, Paint::text, true});
  }
}

void draw_vents(const FieldMap& map, const Frame& frame, Svg& svg) {
  constexpr double kRadius = 8.5;
  Placer placer;
  const Box room = {kPageEdge, frame.map.top - kAround + 2.0, frame.bar.left - 6.0, frame.bottom - 2.0};
  placer.busy(frame.map, 0.004);
  std::vector<Box> anchors;
  for (const MapVent& vent : map.vents) {
    const Point a = frame.at(vent.from), b = frame.at(vent.to);
    const Box box{std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
    const Tags tags = {{"data-vent", clean(vent.name)}, {"data-role", doing_word(vent.doing)}};
    const Paint paint = doing_paint(vent.doing);
    if (vent.is_area) {
      svg.rect(box, {Paint::none, Paint::paper, 3.4});
      svg.rect(box, {Paint::none, paint, 1.8}, 0.0, tags);
    } else {
      svg.line(a, b, {Paint::none, Paint::paper, 8.0});
      svg.line(a, b, {Paint::none, paint, 5.0}, tags);
    }
    placer.busy(grown(box, 3.0), vent.is_area ? kBusyTint : kBusyLines);
    const Point centre = box.centre();
    draw_mark(vent.doing, centre, kRadius, svg);
    anchors.push_back({centre.x - kRadius, centre.y - kRadius, centre.x + kRadius, centre.y + kRadius});
    placer.block(anchors.back());
  }
  draw_words(map, frame, placer, svg);
  for (std::size_t i = 0; i < anchors.size(); ++i) {
    const std::string name = fitted(isolated(map.vents[i].name), kMostName, kVentName, true);
    const double width = text_width(name, kVentName, true);
    const auto placed = placer.place(anchors[i], width, 1.06 * kVentName, room);
    if (!placed) continue;
    if (placed->needs_leader) svg.line(placed->from, placed->to, {Paint::none, Paint::text, 0.9});
    svg.text({placed->box.left, placed->box.top + 0.84 * kVentName}, name,
             {kVentName, true, Anchor::start, doing_paint(map.vents[i].doing), true});
  }
}

}  // namespace

std::string field_map(const FieldMap& map) {
  check_map(map);
  const Heading heading{map.title, map.subtitle, map.note};
  const Frame frame = lay_out(map, heading_bottom(heading) + 12.0);
  const std::vector<KeyEntry> key = map_key(map, frame.scale);
  const double inner = map.width - 2.0 * kPageEdge;
  const double key_bottom = frame.bottom + key_height(key, inner) + 6.0;
  Svg svg(map.width, key_bottom + note_height(heading, map.width) + 8.0, clean(map.title),
          map_description(map), map.surroundings);
  draw_heading(heading, svg);
  draw_field(map, frame, svg);
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
