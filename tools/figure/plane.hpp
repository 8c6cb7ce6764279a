// Points and boxes on the page. Pixels, x to the right, y downwards.
#pragma once

#include <algorithm>
#include <vector>

namespace tuft::figure {

/// A place on the page [px].
struct Point {
  double x = 0.0, y = 0.0;
};

/// A rectangle on the page [px]; left <= right, top <= bottom.
struct Box {
  double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;

  double width() const { return right - left; }
  double height() const { return bottom - top; }
  Point centre() const { return {0.5 * (left + right), 0.5 * (top + bottom)}; }
};

/// True when the two share more than an edge.
inline bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/// Area that two boxes share [px2].
inline double shared_area(const Box& a, const Box& b) {
  const double width = std::min(a.right, b.right) - std::max(a.left, b.left);
  const double height = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
  return width > 0.0 && height > 0.0 ? width * height : 0.0;
}

/// True when the inner box lies within the outer one.
inline bool contains(const Box& outer, const Box& inner) {
  return inner.left >= outer.left && inner.right <= outer.right && inner.top >= outer.top &&
         inner.bottom <= outer.bottom;
}

/// The box with a margin [px] added on all sides.
inline Box grown(const Box& box, double margin) {
  return {box.left - margin, box.top - margin, box.right + margin, box.bottom + margin};
}

/// The box around two points with a margin [px], and the box around two boxes.
inline Box box_around(const Point& a, const Point& b, double margin) {
  return grown({std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)}, margin);
}
inline Box united(const Box& a, const Box& b) {
  return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right),
          std::max(a.bottom, b.bottom)};
}

/// A level line to `right` with a cap at both ends, as pairs of points.
inline std::vector<Point> capped_line(const Point& left, double right) {
  const double y = left.y, above = y - 4.0, below = y + 4.0;
  return {left, {right, y}, {left.x, above}, {left.x, below}, {right, above}, {right, below}};
}

/// The point at a share of the way from one to another.
inline Point between(const Point& a, const Point& b, double share) {
  return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

/// A point moved along a direction [px].
inline Point along(const Point& from, const Point& direction, double distance) {
  return {from.x + distance * direction.x, from.y + distance * direction.y};
}

}  // namespace tuft::figure
