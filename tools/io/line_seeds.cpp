#include "tools/io/line_seeds.hpp"

#include <algorithm>

namespace tuft::output {
namespace {

constexpr std::size_t kMostSeedsAVent = 14;
constexpr int kPlacesAcross = 16;  // of the regular grid, along the longer side

}  // namespace

std::vector<LineSeed> vent_seeds(const LineLayer& layer, bool gives) {
  std::vector<std::vector<LineSeed>> by_vent;
  for (int j = 0; j < layer.ny; ++j)
    for (int i = 0; i < layer.nx; ++i)
      for (const CellEnd& end : layer.ends(i, j)) {
        if (end.kind != LineEnd::vent || (end.gives > 0.0) != gives) continue;
        const auto v = static_cast<std::size_t>(end.vent);
        if (by_vent.size() <= v) by_vent.resize(v + 1);
        by_vent[v].push_back({layer.middle_x(i), layer.middle_y(j)});
      }
  std::vector<LineSeed> seeds;
  for (const auto& all : by_vent) {
    const std::size_t step = std::max<std::size_t>(1, all.size() / kMostSeedsAVent);
    for (std::size_t k = step / 2; k < all.size(); k += step) seeds.push_back(all[k]);
  }
  return seeds;
}

std::vector<LineSeed> regular_seeds(const LineLayer& layer) {
  const double apart = std::max(layer.width(), layer.height()) / kPlacesAcross;
  std::vector<LineSeed> seeds;
  for (double y = layer.layer.y.front() + 0.5 * apart; y < layer.layer.y.back(); y += apart)
    for (double x = layer.layer.x.front() + 0.5 * apart; x < layer.layer.x.back(); x += apart)
      if (!layer.is_solid(layer.column(x), layer.row(y))) seeds.push_back({x, y});
  return seeds;
}

}  // namespace tuft::output
