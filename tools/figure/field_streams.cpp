// Streamlines and points of air on a field map.
#include <cmath>
#include <utility>

#include "tools/figure/curve.hpp"
#include "tools/figure/field_frame.hpp"

namespace tuft::figure {
namespace {

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
