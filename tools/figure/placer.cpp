#include "tools/figure/placer.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "tools/figure/curve.hpp"

namespace tuft::figure {
namespace {

// Distances between label and anchor that are tried [px].
constexpr std::array<double, 14> kGaps = {4, 9, 15, 22, 30, 40, 52, 66, 82, 100, 125, 155, 190, 240};
constexpr double kLeaderGap = 13.0;    // wider gaps need a line
constexpr double kGapWeight = 1.0;     // cost of a pixel of gap
constexpr double kCrossWeight = 60.0;  // cost of a leader through something blocked
constexpr double kDiagonal = 9.0;      // cost of a place beyond a corner
constexpr double kShunWeight = 0.05;   // cost of a square pixel within the shunned box
constexpr int kGrid = 9;               // places tried along each side of an area
constexpr double kClear = 2.5;         // kept free around each label [px]

Point nearest(const Box& box, const Point& to) {
  return {std::clamp(to.x, box.left, box.right), std::clamp(to.y, box.top, box.bottom)};
}

// Boxes at a gap around the anchor: on each side, level with its start, middle and end, and at the corners.
std::vector<Box> around(const Box& anchor, double width, double height, double gap) {
  const Point middle = anchor.centre();
  const std::array<double, 5> xs = {middle.x - 0.5 * width, anchor.right + gap, anchor.left - gap - width,
                                    anchor.left, anchor.right - width};
  const std::array<double, 5> ys = {middle.y - 0.5 * height, anchor.bottom + gap, anchor.top - gap - height,
                                    anchor.top, anchor.bottom - height};
  std::vector<Box> boxes;
  for (const double x : xs) {
    for (const double y : ys) {
      const Box box{x, y, x + width, y + height};
      if (!overlap(grown(anchor, gap - 0.01), box)) boxes.push_back(box);
    }
  }
  return boxes;
}

// Beyond a corner: belongs to its anchor less clearly.
bool is_diagonal(const Box& anchor, const Box& box) {
  const bool beside = box.left >= anchor.right || box.right <= anchor.left;
  return beside && (box.top >= anchor.bottom || box.bottom <= anchor.top);
}

struct Pool {
  double mean = 0.0;
  std::size_t count = 0;
};

// The rising sequence nearest to the values in the sense of least squares.
std::vector<double> isotonic(const std::vector<double>& values) {
  std::vector<Pool> pools;
  for (const double value : values) {
    pools.push_back({value, 1});
    while (pools.size() > 1 && pools[pools.size() - 2].mean > pools.back().mean) {
      const Pool last = pools.back();
      pools.pop_back();
      Pool& first = pools.back();
      const double sum =
          first.mean * static_cast<double>(first.count) + last.mean * static_cast<double>(last.count);
      first.count += last.count;
      first.mean = sum / static_cast<double>(first.count);
    }
  }
  std::vector<double> result;
  for (const Pool& pool : pools) result.insert(result.end(), pool.count, pool.mean);
  return result;
}

template <typename Key>
std::vector<std::size_t> order_by(std::size_t count, Key key) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
  return order;
}

}  // namespace

std::optional<double> Placer::cost(const Placed& placed, double gap, const Box& room) const {
  if (!contains(room, placed.box)) return std::nullopt;
  const Box clear = grown(placed.box, kClear);
  double sum = kGapWeight * gap;
  for (const Box& box : blocked_) {
    if (overlap(clear, box)) return std::nullopt;
    if (placed.needs_leader && !clipped_line({placed.from, placed.to}, box).empty()) sum += kCrossWeight;
  }
  for (const Busy& busy : busy_) sum += busy.weight * shared_area(clear, busy.box);
  return sum;
}

std::optional<Placed> Placer::place(const Box& anchor, double width, double height, const Box& room,
                                    const Box& shunned) {
  std::optional<Placed> best;
  double least = 0.0;
  for (const double gap : kGaps) {
    if (best && kGapWeight * gap > least) break;
    for (const Box& box : around(anchor, width, height, gap)) {
      Placed placed{box, gap > kLeaderGap, {}, {}};
      placed.to = nearest(anchor, box.centre());
      placed.from = nearest(grown(box, 1.5), placed.to);
      std::optional<double> price = cost(placed, gap, room);
      if (price)
        *price += kShunWeight * shared_area(box, shunned) + (is_diagonal(anchor, box) ? kDiagonal : 0.0);
      if (!price || (best && *price >= least)) continue;
      best = placed;
      least = *price;
    }
  }
  return taken(best);
}

std::optional<Placed> Placer::place_within(const Box& area, double width, double height) {
  std::optional<Placed> best;
  double least = 0.0;
  const Point middle = area.centre();
  const Box inner = grown(area, -kClear);
  for (int i = 0; i < kGrid * kGrid; ++i) {
    const double x = (i % kGrid) / (kGrid - 1.0), y = (i / kGrid) / (kGrid - 1.0);
    const double left = inner.left + x * (inner.width() - width),
                 top = inner.top + y * (inner.height() - height);
    const Placed placed{{left, top, left + width, top + height}, false, {}, {}};
    const Point at = placed.box.centre();
    const auto price = cost(placed, 0.4 * std::hypot(at.x - middle.x, at.y - middle.y), area);
    if (!price || (best && *price >= least)) continue;
    best = placed;
    least = *price;
  }
  return taken(best);
}

std::optional<Placed> Placer::taken(const std::optional<Placed>& best) {
  if (best) block(grown(best->box, 1.0));
  return best;
}

std::vector<double> spread_out(const std::vector<Wish>& wishes, double low, double high) {
  const auto order = order_by(wishes.size(), [&](std::size_t i) { return wishes[i].at; });
  // With the heights of all labels above taken off, "no overlap" becomes "does not fall".
  std::vector<double> above, reduced;
  double sum = 0.0;
  for (const std::size_t i : order) {
    above.push_back(sum + 0.5 * wishes[i].height);
    reduced.push_back(wishes[i].at - above.back());
    sum += wishes[i].height;
  }
  const std::vector<double> rising = isotonic(reduced);
  std::vector<double> result(wishes.size());
  for (std::size_t k = 0; k < order.size(); ++k)
    result[order[k]] = std::max(low, std::min(rising[k], high - sum)) + above[k];
  return result;
}

std::vector<int> rows_for(const std::vector<Span>& spans, double gap) {
  const auto order = order_by(spans.size(), [&](std::size_t i) { return spans[i].start; });
  std::vector<double> starts;  // of the leftmost span in each row so far; what lies above counts as well
  std::vector<int> rows(spans.size());
  for (auto at = order.rbegin(); at != order.rend(); ++at) {
    const Span& span = spans[*at];
    std::size_t row = starts.size();
    while (row > 0 && span.end + gap <= starts[row - 1]) --row;
    if (row == starts.size()) starts.push_back(span.start);
    starts[row] = span.start;
    rows[*at] = static_cast<int>(row);
  }
  return rows;
}

}  // namespace tuft::figure
