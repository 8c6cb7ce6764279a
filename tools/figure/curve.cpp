#include "tools/figure/curve.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>

namespace tuft::figure {
namespace {

constexpr double kColumn = 0.5;  // [px]

// Shrinks the part [from, to] of a segment to where `start + share * change` is at most `most`.
bool cut(double start, double change, double most, double& from, double& to) {
  if (change == 0.0) return start <= most;
  const double share = (most - start) / change;
  if (change > 0.0)
    to = std::min(to, share);
  else
    from = std::max(from, share);
  return from <= to;
}

// The part of the segment a-b within the box, as shares of it.
bool part_within(const Point& a, const Point& b, const Box& box, double& from, double& to) {
  from = 0.0;
  to = 1.0;
  return cut(a.x, b.x - a.x, box.right, from, to) && cut(-a.x, a.x - b.x, -box.left, from, to) &&
         cut(a.y, b.y - a.y, box.bottom, from, to) && cut(-a.y, a.y - b.y, -box.top, from, to);
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

/// A place in tenths of a pixel.
struct Tenths {
  long x = 0, y = 0;
};

Tenths rounded(const Point& point) {
  if (!std::isfinite(point.x) || !std::isfinite(point.y))
    throw std::invalid_argument(fmt::format("point {}, {} of a line is not finite", point.x, point.y));
  return {std::lround(10.0 * point.x), std::lround(10.0 * point.y)};
}

// "12.3", ".3", "-7"; a space before it where it would run into the number before.
void put(long tenths, bool apart, std::string& text) {
  if (tenths < 0) {
    text += '-';
    tenths = -tenths;
  } else if (apart) {
    text += ' ';
  }
  if (tenths >= 10 || tenths == 0) text += std::to_string(tenths / 10);
  if (tenths % 10 != 0) text += fmt::format(".{}", tenths % 10);
}

void put(const Tenths& from, const Tenths& to, bool apart, std::string& text) {
  put(to.x - from.x, apart, text);
  put(to.y - from.y, true, text);
}

Point middle(const Point& a, const Point& b) { return {0.5 * (a.x + b.x), 0.5 * (a.y + b.y)}; }

/// Ways along the edges that are not yet part of an outline, by where they start.
using Ways = std::map<Corner, std::vector<Corner>>;

Ways edges_of(int nx, int ny, const std::vector<bool>& marked) {
  const auto is = [&](int i, int j) {
    return i >= 0 && i < nx && j >= 0 && j < ny &&
           marked[static_cast<std::size_t>(j) * static_cast<std::size_t>(nx) + static_cast<std::size_t>(i)];
  };
  Ways ways;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      if (!is(i, j)) continue;
      if (!is(i, j - 1)) ways[{i, j}].push_back({i + 1, j});
      if (!is(i + 1, j)) ways[{i + 1, j}].push_back({i + 1, j + 1});
      if (!is(i, j + 1)) ways[{i + 1, j + 1}].push_back({i, j + 1});
      if (!is(i - 1, j)) ways[{i, j + 1}].push_back({i, j});
    }
  return ways;
}

// How far a way turns to the left of the one before: -1, 0, 1.
int turn(const Corner& a, const Corner& b, const Corner& c) {
  return (b.first - a.first) * (c.second - b.second) - (b.second - a.second) * (c.first - b.first);
}

// Takes a way out. Where two cells touch at a corner there are two: that which turns left stays at its cell.
Corner take(Ways& ways, const Corner& before, const Corner& from) {
  std::vector<Corner>& all = ways[from];
  std::size_t best = 0;
  for (std::size_t k = 1; k < all.size(); ++k)
    if (turn(before, from, all[k]) > turn(before, from, all[best])) best = k;
  const Corner to = all[best];
  all.erase(all.begin() + static_cast<std::ptrdiff_t>(best));
  if (all.empty()) ways.erase(from);
  return to;
}

std::vector<Corner> without_straight(const std::vector<Corner>& ring) {
  std::vector<Corner> result;
  for (std::size_t k = 0; k < ring.size(); ++k)
    if (turn(ring[(k + ring.size() - 1) % ring.size()], ring[k], ring[(k + 1) % ring.size()]) != 0)
      result.push_back(ring[k]);
  return result;
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

std::string curve_text(const std::vector<Point>& line) {
  if (line.size() < 2) return {};
  Tenths at = rounded(line.front());
  std::string text = "M";
  put({}, at, false, text);
  const auto go_straight = [&](const Point& to) {
    const Tenths next = rounded(to);
    text += 'l';
    put(at, next, false, text);
    at = next;
  };
  if (line.size() > 2) go_straight(middle(line[0], line[1]));
  for (std::size_t k = 1; k + 1 < line.size(); ++k) {
    const Tenths bend = rounded(line[k]), next = rounded(middle(line[k], line[k + 1]));
    text += k == 1 ? "q" : "";
    put(at, bend, k > 1, text);
    put(at, next, true, text);
    at = next;
  }
  go_straight(line.back());
  return text;
}

std::vector<std::vector<Corner>> cell_outlines(int nx, int ny, const std::vector<bool>& marked) {
  Ways ways = edges_of(nx, ny, marked);
  std::vector<std::vector<Corner>> outlines;
  while (!ways.empty()) {
    std::vector<Corner> ring{ways.begin()->first};
    Corner before = ring.front(), at = ring.front();
    do {
      const Corner next = take(ways, before, at);
      before = at;
      at = next;
      if (at != ring.front()) ring.push_back(at);
    } while (at != ring.front());
    outlines.push_back(without_straight(ring));
  }
  return outlines;
}

}  // namespace tuft::figure
