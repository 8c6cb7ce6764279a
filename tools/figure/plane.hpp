// Points and boxes on the page. Pixels, x to the right, y downwards.
#pragma once

#include <algorithm>

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

}  // namespace tuft::figure
