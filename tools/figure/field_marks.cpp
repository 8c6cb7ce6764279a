// Vents, fans, fins and words on a field map.
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "tools/figure/curve.hpp"
#include "tools/figure/field_parts.hpp"
#include "tools/figure/heading.hpp"
#include "tools/figure/placer.hpp"
#include "tools/figure/text.hpp"

namespace tuft::figure {
namespace {

Box page_box(const MapFrame& frame, const Place& from, const Place& to) {
  return box_around(frame.at(from), frame.at(to), 0.0);
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

// The colours of a map are the same by day and by night, those of words are not: words on it have paper
// behind.
void lay_paper(const Box& words, const MapFrame& frame, Svg& svg) {
  if (overlap(words, frame.map)) svg.rect(grown(words, 2.0), {Paint::paper, Paint::none, 0.0, {}, 0.8}, 3.0);
}

// Words lie in their box where they fit into it, else beside it.
void draw_words(const FieldMap& map, const MapFrame& frame, Placer& placer, Svg& svg) {
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
    if (!placed) placed = placer.place(box_around(box.centre(), box.centre(), 3.0), width, height, frame.map);
    if (!placed) continue;
    lay_paper(placed->box, frame, svg);
    svg.text({placed->box.left, placed->box.top + 0.84 * kVentName}, text,
             {kVentName, false, Anchor::start, Paint::text, true});
  }
}

bool same(const Box& a, const Box& b) {
  constexpr double kNear = 2.0;  // [px]
  return std::abs(a.left - b.left) < kNear && std::abs(a.right - b.right) < kNear &&
         std::abs(a.top - b.top) < kNear && std::abs(a.bottom - b.bottom) < kNear;
}

// The place of a vent's mark: its middle, or along it where another vent's mark stands there (a grille in the
// base under one in the top).
Box free_mark(const Box& box, double radius, const std::vector<Box>& taken) {
  const bool wide = box.width() >= box.height();
  const double room = 0.5 * (wide ? box.width() : box.height()) - radius;
  Box mark;
  for (int step = 0; step < 12; ++step) {
    const double aside = (step % 2 == 0 ? -1.0 : 1.0) * ((step + 1) / 2) * 2.2 * radius;
    if (step > 0 && std::abs(aside) > room) continue;
    const Point at =
        wide ? Point{box.centre().x + aside, box.centre().y} : Point{box.centre().x, box.centre().y + aside};
    const Box here = box_around(at, at, radius);
    if (step == 0) mark = here;
    if (std::none_of(taken.begin(), taken.end(), [&](const Box& other) { return overlap(here, other); }))
      return here;
  }
  return mark;
}

constexpr double kDotRadius = 2.6;  // of a point of air [px]

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

}  // namespace

// Outlines that show on light and on dark colours alike; no part of them leaves the map.
void draw_parts(const FieldMap& map, const MapFrame& frame, Svg& svg) {
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

void draw_vents(const FieldMap& map, const MapFrame& frame, Svg& svg) {
  constexpr double kRadius = 8.5;
  Placer placer;
  const Box room = {kPageEdge, frame.map.top - kAround + 2.0, frame.bar.left - 6.0, frame.bottom - 2.0};
  placer.busy(frame.map, 0.004);
  std::vector<Box> anchors, areas;
  for (const MapVent& vent : map.vents) {
    const Point a = frame.at(vent.from), b = frame.at(vent.to);
    const Box box = page_box(frame, vent.from, vent.to);
    const Tags tags = {{"data-vent", clean(vent.name)}, {"data-role", vent_state_word(vent.vent_state)}};
    const Paint paint = vent_state_paint(vent.vent_state);
    if (vent.is_area) {
      // Of two that lie on each other both are to be seen: the second one in dashes over the first.
      const bool hides =
          std::any_of(areas.begin(), areas.end(), [&](const Box& other) { return same(box, other); });
      if (!hides) svg.rect(box, {Paint::none, Paint::paper, 3.4});
      svg.rect(box, {Paint::none, paint, 1.8, hides ? std::vector<double>{9.0, 9.0} : std::vector<double>{}},
               0.0, tags);
      areas.push_back(box);
    } else {
      svg.line(a, b, {Paint::none, Paint::paper, 8.0});
      svg.line(a, b, {Paint::none, paint, 5.0}, tags);
    }
    placer.busy(grown(box, 3.0), vent.is_area ? kBusyTint : kBusyLines);
    anchors.push_back(free_mark(box, kRadius, anchors));
    draw_mark(vent.vent_state, anchors.back().centre(), kRadius, svg);
    placer.block(anchors.back());
  }
  draw_words(map, frame, placer, svg);
  for (std::size_t i = 0; i < anchors.size(); ++i) {
    const std::string name = vent_label(map.vents[i]);
    const double width = text_width(name, kVentName, true);
    const auto placed = placer.place(anchors[i], width, 1.06 * kVentName, room);
    if (!placed) continue;
    if (placed->needs_leader) svg.line(placed->from, placed->to, {Paint::none, Paint::text, 0.9});
    lay_paper(placed->box, frame, svg);
    svg.text({placed->box.left, placed->box.top + 0.84 * kVentName}, name,
             {kVentName, true, Anchor::start, vent_state_paint(map.vents[i].vent_state), true});
  }
}

// Each line is drawn twice, so that it shows on light and on dark colours alike.
void draw_streamlines(const FieldMap& map, const MapFrame& frame, Svg& svg) {
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
void draw_dots(const FieldMap& map, const MapFrame& frame, Svg& svg) {
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

}  // namespace tuft::figure
