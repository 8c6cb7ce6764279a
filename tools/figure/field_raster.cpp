#include "tools/figure/field_raster.hpp"

#include <algorithm>
#include <cmath>

#include "tools/figure/colour.hpp"

namespace tuft::figure {
namespace {

// The cell a coordinate lies in.
std::size_t cell_of(const std::vector<double>& lines, double at) {
  const auto next = std::upper_bound(lines.begin(), lines.end(), at);
  const auto cell = std::max<std::ptrdiff_t>(0, next - lines.begin() - 1);
  return std::min(static_cast<std::size_t>(cell), lines.size() - 2);
}

double centre_of(const std::vector<double>& lines, std::size_t cell) {
  return 0.5 * (lines[cell] + lines[cell + 1]);
}

// Two neighbouring cells and the share of the second, along one axis. Beyond the outermost centres the
// outermost cell counts alone.
struct Blend {
  std::size_t first = 0, second = 0;
  double share = 0.0;
};

Blend blend_of(const std::vector<double>& lines, double at) {
  const std::size_t cell = cell_of(lines, at);
  const double centre = centre_of(lines, cell);
  const std::size_t other = at < centre ? (cell == 0 ? 0 : cell - 1) : std::min(cell + 1, lines.size() - 2);
  if (other == cell) return {cell, cell, 0.0};
  return {cell, other, (at - centre) / (centre_of(lines, other) - centre)};
}

struct Raster {
  const FieldMap& map;
  std::size_t columns = map.x.size() - 1;

  bool has_value(std::size_t i, std::size_t j) const {
    const std::size_t cell = j * columns + i;
    return (map.solid.empty() || !map.solid[cell]) && std::isfinite(map.values[cell]);
  }
  double value(std::size_t i, std::size_t j) const { return map.values[j * columns + i]; }

  // Bilinear between cell centres; cells without a value take no part, so that walls stay sharp.
  double blended(const Blend& x, const Blend& y) const {
    double sum = 0.0, weights = 0.0;
    for (int k = 0; k < 4; ++k) {
      const std::size_t i = k % 2 == 0 ? x.first : x.second, j = k < 2 ? y.first : y.second;
      const double weight = (k % 2 == 0 ? 1.0 - x.share : x.share) * (k < 2 ? 1.0 - y.share : y.share);
      if (weight <= 0.0 || !has_value(i, j)) continue;
      sum += weight * value(i, j);
      weights += weight;
    }
    return weights > 0.0 ? sum / weights : value(x.first, y.first);
  }
};

std::vector<Blend> blends(const std::vector<double>& lines, int count, bool from_top) {
  std::vector<Blend> result;
  const double span = lines.back() - lines.front();
  for (int i = 0; i < count; ++i) {
    const double share = (i + 0.5) / count;
    result.push_back(blend_of(lines, from_top ? lines.back() - share * span : lines.front() + share * span));
  }
  return result;
}

}  // namespace

std::vector<Rgb> field_pixels(const FieldMap& map, const ColourRange& range, int width, int height) {
  const Raster raster{map};
  const Rgb grey = rgb_of(linear_of_hex(pot(Paint::solid).light));
  const std::vector<Blend> xs = blends(map.x, width, false), ys = blends(map.y, height, true);
  std::vector<Rgb> pixels;
  pixels.reserve(xs.size() * ys.size());
  for (const Blend& y : ys) {
    for (const Blend& x : xs) {
      if (!raster.has_value(x.first, y.first)) {
        pixels.push_back(grey);
        continue;
      }
      const double value = map.smooth ? raster.blended(x, y) : raster.value(x.first, y.first);
      pixels.push_back(map_rgb(map.kind, (value - range.low) / (range.high - range.low)));
    }
  }
  return pixels;
}

}  // namespace tuft::figure
