#include "tools/figure/path_text.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

namespace tuft::figure {
namespace {

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

}  // namespace

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

}  // namespace tuft::figure
