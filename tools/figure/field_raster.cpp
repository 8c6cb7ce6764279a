#include "tools/figure/field_parts.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

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

constexpr int kSteps = 256;  // colours of a palette: one byte a pixel
constexpr int kNone = -1;    // a pixel without a colour so far

struct Raster {
  const FieldMap& map;
  std::vector<bool> blank = blank_cells(map);
  std::size_t columns = map.x.size() - 1;

  double value(std::size_t i, std::size_t j) const { return map.values[j * columns + i]; }

  // Bilinear between cell centres; cells without a value take no part, so that walls stay sharp. Nothing
  // where none has one.
  std::optional<double> blended(const Blend& x, const Blend& y) const {
    double sum = 0.0, weights = 0.0;
    for (int k = 0; k < 4; ++k) {
      const std::size_t i = k % 2 == 0 ? x.first : x.second, j = k < 2 ? y.first : y.second;
      const double weight = (k % 2 == 0 ? 1.0 - x.share : x.share) * (k < 2 ? 1.0 - y.share : y.share);
      if (weight <= 0.0 || blank[j * columns + i]) continue;
      sum += weight * value(i, j);
      weights += weight;
    }
    if (!(weights > 0.0)) return std::nullopt;
    return sum / weights;
  }

  std::optional<double> sharp(const Blend& x, const Blend& y) const {
    if (blank[y.first * columns + x.first]) return std::nullopt;
    return value(x.first, y.first);
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

// One more rim of pixels around those that have a colour: the mean of the neighbours that do.
std::vector<int> grown(const std::vector<int>& pixels, int width, int height) {
  std::vector<int> result = pixels;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      int sum = 0, count = 0;
      const auto add = [&](int at_x, int at_y) {
        if (at_x < 0 || at_x >= width || at_y < 0 || at_y >= height) return;
        const int pixel = pixels[static_cast<std::size_t>(at_y) * static_cast<std::size_t>(width) +
                                 static_cast<std::size_t>(at_x)];
        if (pixel == kNone) return;
        sum += pixel;
        ++count;
      };
      const std::size_t at =
          static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
      if (pixels[at] != kNone) continue;
      add(x - 1, y);
      add(x + 1, y);
      add(x, y - 1);
      add(x, y + 1);
      if (count > 0) result[at] = sum / count;
    }
  return result;
}

// Two rims are as far as blending reaches; beyond, whatever is quickly written.
std::vector<std::uint8_t> filled(std::vector<int> pixels, int width, int height) {
  for (int rim = 0; rim < 2; ++rim) pixels = grown(pixels, width, height);
  std::vector<std::uint8_t> result;
  result.reserve(pixels.size());
  for (const int pixel : pixels)
    result.push_back(pixel != kNone   ? static_cast<std::uint8_t>(pixel)
                     : result.empty() ? std::uint8_t{0}
                                      : result.back());
  return result;
}

}  // namespace

std::vector<Rgb> map_palette(MapKind kind) {
  std::vector<Rgb> palette;
  for (int i = 0; i < kSteps; ++i) palette.push_back(map_rgb(kind, static_cast<double>(i) / (kSteps - 1)));
  return palette;
}

std::vector<bool> blank_cells(const FieldMap& map) {
  std::vector<bool> blank = map.solid;
  blank.resize((map.x.size() - 1) * (map.y.size() - 1), false);
  for (std::size_t cell = 0; cell < map.values.size(); ++cell)
    if (!std::isfinite(map.values[cell])) blank[cell] = true;
  return blank;
}

std::vector<std::uint8_t> field_pixels(const FieldMap& map, const ColourRange& range, int width, int height) {
  const Raster raster{map};
  const std::vector<Blend> xs = blends(map.x, width, false), ys = blends(map.y, height, true);
  std::vector<int> pixels;
  pixels.reserve(xs.size() * ys.size());
  for (const Blend& y : ys) {
    for (const Blend& x : xs) {
      const std::optional<double> value = map.smooth ? raster.blended(x, y) : raster.sharp(x, y);
      if (!value) {
        pixels.push_back(kNone);
        continue;
      }
      const double place = std::clamp((*value - range.low) / (range.high - range.low), 0.0, 1.0);
      pixels.push_back(static_cast<int>(std::lround(place * (kSteps - 1))));
    }
  }
  return filled(std::move(pixels), width, height);
}

}  // namespace tuft::figure
