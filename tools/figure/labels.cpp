#include "tools/figure/labels.hpp"

#include <algorithm>
#include <numeric>

namespace tuft::figure {
namespace {

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
  for (std::size_t k = 0; k < order.size(); ++k) {
    result[order[k]] = std::max(low, std::min(rising[k], high - sum)) + above[k];
  }
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
