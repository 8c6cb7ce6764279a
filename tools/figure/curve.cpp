#include "tools/figure/curve.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace tuft::figure {
namespace {

constexpr double kColumn = 0.5;  // [px]

// Shrinks the part [from, to] of a segment to where `start + share * change` is at most `most`.
bool cut(double start, double change, double most, double& from, double& to) {
  if (change == 0.0) return start <= most;
  const double share = (most - start) / change;
  if (change > 0.0) {
    to = std::min(to, share);
  } else {
    from = std::max(from, share);
  }
  return from <= to;
}

Point between(const Point& a, const Point& b, double share) {
  return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

// The part of the segment a-b within the box, as shares of it.
bool part_within(const Point& a, const Point& b, const Box& box, double& from, double& to) {
  from = 0.0;
  to = 1.0;
  return cut(a.x, b.x - a.x, box.right, from, to) && cut(-a.x, a.x - b.x, -box.left, from, to) &&
         cut(a.y, b.y - a.y, box.bottom, from, to) && cut(-a.y, a.y - b.y, -box.top, from, to);
}

template <typename Inside, typename Crossing>
std::vector<Point> cut_ring(const std::vector<Point>& ring, Inside inside, Crossing crossing) {
  std::vector<Point> result;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point& a = ring[i];
    const Point& b = ring[(i + 1) % ring.size()];
    if (inside(a)) result.push_back(a);
    if (inside(a) != inside(b)) result.push_back(crossing(a, b));
  }
  return result;
}

void add_column(const std::vector<Point>& line, std::size_t first, std::size_t last,
                std::vector<Point>& result) {
  std::size_t low = first, high = first;
  for (std::size_t i = first; i <= last; ++i) {
    if (line[i].y < line[low].y) low = i;
    if (line[i].y > line[high].y) high = i;
  }
  for (const std::size_t i : std::set<std::size_t>{first, low, high, last}) result.push_back(line[i]);
}

// Distance of a point from the segment a-b [px].
double off(const Point& p, const Point& a, const Point& b) {
  const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
  const double share =
      square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
  return std::hypot(p.x - a.x - share * dx, p.y - a.y - share * dy);
}

}  // namespace

std::vector<std::vector<Point>> clipped_line(const std::vector<Point>& line, const Box& box) {
  std::vector<std::vector<Point>> pieces;
  if (line.size() == 1 && contains(box, {line[0].x, line[0].y, line[0].x, line[0].y})) return {line};
  bool joined = false;  // the last piece ends at the start of this segment
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    double from = 0.0, to = 1.0;
    if (!part_within(line[i], line[i + 1], box, from, to)) {
      joined = false;
      continue;
    }
    if (!joined || from > 0.0) pieces.push_back({between(line[i], line[i + 1], from)});
    pieces.back().push_back(between(line[i], line[i + 1], to));
    joined = to == 1.0;
  }
  return pieces;
}

std::vector<Point> clipped_ring(const std::vector<Point>& ring, const Box& box) {
  const auto at_x = [](double x) {
    return [x](const Point& a, const Point& b) { return between(a, b, (x - a.x) / (b.x - a.x)); };
  };
  const auto at_y = [](double y) {
    return [y](const Point& a, const Point& b) { return between(a, b, (y - a.y) / (b.y - a.y)); };
  };
  std::vector<Point> part = cut_ring(
      ring, [&](const Point& p) { return p.x >= box.left; }, at_x(box.left));
  part = cut_ring(
      part, [&](const Point& p) { return p.x <= box.right; }, at_x(box.right));
  part = cut_ring(
      part, [&](const Point& p) { return p.y >= box.top; }, at_y(box.top));
  return cut_ring(
      part, [&](const Point& p) { return p.y <= box.bottom; }, at_y(box.bottom));
}

std::vector<Point> thinned(const std::vector<Point>& line) {
  std::vector<Point> result;
  for (std::size_t first = 0; first < line.size();) {
    const double column = std::floor(line[first].x / kColumn);
    std::size_t last = first;
    while (last + 1 < line.size() && std::floor(line[last + 1].x / kColumn) == column) ++last;
    add_column(line, first, last, result);
    first = last + 1;
  }
  return result;
}

std::vector<Point> simplified(const std::vector<Point>& line, double tolerance) {
  if (line.size() < 3) return line;
  std::vector<bool> kept(line.size(), false);
  kept.front() = kept.back() = true;
  std::vector<std::pair<std::size_t, std::size_t>> parts{{0, line.size() - 1}};
  while (!parts.empty()) {
    const auto [first, last] = parts.back();
    parts.pop_back();
    double farthest = tolerance;
    std::size_t at = first;
    for (std::size_t i = first + 1; i < last; ++i) {
      const double apart = off(line[i], line[first], line[last]);
      if (apart <= farthest) continue;
      farthest = apart;
      at = i;
    }
    if (at == first) continue;
    kept[at] = true;
    parts.push_back({first, at});
    parts.push_back({at, last});
  }
  std::vector<Point> result;
  for (std::size_t i = 0; i < line.size(); ++i)
    if (kept[i]) result.push_back(line[i]);
  return result;
}

}  // namespace tuft::figure
