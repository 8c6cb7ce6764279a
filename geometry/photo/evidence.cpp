#include "geometry/photo/evidence.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tuft::photo {
namespace {

// Pixels beside an edge that blur reaches; where regions are too narrow for that, what is left of them.
constexpr double kRims[] = {3.0, 1.5, 0.0};
constexpr double kEnoughMiddle = 0.1;  // of a region
constexpr std::size_t kFewestWhole = 4;
constexpr double kWholeShare = 0.25;  // of what is dark: fewer are no pattern, however alike; judgement
// Something shows in the holes where their light spreads by so much of the shell's light, and by so much more
// than that of the shell itself: a camera's noise is no less where there is more light. Judgement.
constexpr double kSeenSpread = 0.05, kOfShellSpread = 1.5;

// The samples of the mask that are at least so many samples from its edge: a box moved over it, along rows
// and then along columns.
std::vector<std::uint8_t> eroded(const Mask& mask, int reach) {
  std::vector<std::uint8_t> rows(mask.in.size()), out(mask.in.size());
  const auto pass = [reach](const std::uint8_t* from, std::uint8_t* to, int n, int step) {
    int run = reach;  // beyond the rim counts as in: a hole that the rim cuts has a middle there
    for (int i = 0; i < n + reach; ++i) {
      run = i >= n || from[i * step] != 0 ? run + 1 : 0;
      if (i >= reach) to[(i - reach) * step] = run > 2 * reach ? 1 : 0;
    }
  };
  for (int row = 0; row < mask.rows; ++row) {
    const std::size_t first = static_cast<std::size_t>(row) * mask.columns;
    pass(&mask.in[first], &rows[first], mask.columns, 1);
  }
  for (int column = 0; column < mask.columns; ++column)
    pass(&rows[column], &out[column], mask.rows, mask.columns);
  return out;
}

// The light, sorted, in the middles of what the mask holds.
std::vector<float> middles_of(const Straight& evened, const Mask& mask) {
  std::size_t held = 0;
  for (const std::uint8_t each : mask.in) held += each;
  std::vector<float> out;
  for (const double rim : kRims) {
    const std::vector<std::uint8_t> inner =
        eroded(mask, static_cast<int>(std::lround(rim * evened.pixel.y() / evened.cell.maxCoeff())));
    out.clear();
    for (std::size_t i = 0; i < inner.size(); ++i)
      if (inner[i] != 0) out.push_back(evened.light[i]);
    if (static_cast<double>(out.size()) >= kEnoughMiddle * static_cast<double>(held)) break;
  }
  std::sort(out.begin(), out.end());
  return out;
}

// From the darkest to the lightest of sorted values, without the twentieth at either end.
struct Span {
  double low = 0.0, high = 0.0;
  double spread() const { return high - low; }
};

Span span_of(const std::vector<float>& sorted) {
  if (sorted.empty()) return {};
  const std::size_t twentieth = sorted.size() / 20;
  return {sorted[twentieth], sorted[sorted.size() - 1 - twentieth]};
}

double deep_share(const std::vector<float>& holes, const std::vector<float>& shell) {
  const Span span = span_of(holes);
  if (span.spread() < std::max(kSeenSpread, kOfShellSpread * span_of(shell).spread())) return 1.0;
  const auto half = static_cast<float>(0.5 * (span.low + span.high));
  return static_cast<double>(std::lower_bound(holes.begin(), holes.end(), half) - holes.begin()) /
         static_cast<double>(holes.size());
}

double unlike_of(const std::vector<Blob>& regions) {
  std::vector<double> areas;
  double whole = 0.0, all = 0.0;
  for (const Blob& each : regions) {
    all += each.area;
    if (each.touches_rim) continue;
    areas.push_back(each.area);
    whole += each.area;
  }
  if (areas.size() < kFewestWhole || whole < kWholeShare * all)
    return std::numeric_limits<double>::infinity();
  std::sort(areas.begin(), areas.end());
  const std::size_t tenth = areas.size() / 10;
  return areas[areas.size() - 1 - tenth] / areas[tenth] - 1.0;
}

}  // namespace

Evidence evidence_of(const Straight& evened, const Mask& mask, const std::vector<Blob>& regions) {
  Evidence out;
  const std::vector<float> holes = middles_of(evened, mask);
  if (holes.empty()) return out;
  Mask shell = mask;
  for (std::uint8_t& each : shell.in) each = each != 0 ? 0 : 1;
  out.dark = holes[holes.size() / 2];
  out.deep = deep_share(holes, middles_of(evened, shell));
  out.unlike = unlike_of(regions);
  double all = 0.0;
  for (const Blob& each : regions) all += each.area;
  for (const Blob& each : regions)
    if (each.reaches_all_sides) out.joined = std::max(out.joined, each.area / all);
  return out;
}

}  // namespace tuft::photo
