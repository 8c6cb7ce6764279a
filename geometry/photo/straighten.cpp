#include "geometry/photo/straighten.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tuft::photo {
namespace {

constexpr int kLongestSide = 1600;  // samples; enough for a vent of 800 pixels, quick in a page
constexpr double kBrightest = 1.6;  // of the shell's light; above, histograms are cut off
constexpr int kBins = 256;
constexpr std::size_t kTerms = 6;

// --- the light of the shell ----------------------------------------------------------------------

using Terms = std::array<double, kTerms>;

Terms terms_at(const Straight& patch, int column, int row) {
  const double u = 2.0 * (column + 0.5) / patch.columns - 1.0, v = 2.0 * (row + 0.5) / patch.rows - 1.0;
  return {1.0, u, v, u * u, u * v, v * v};
}

// Solves a small symmetric positive system by elimination; the ridge keeps what nothing is known of at zero.
Terms solved(std::array<Terms, kTerms> matrix, Terms right) {
  const double ridge = 1e-9 * matrix[0][0] + 1e-30;
  for (std::size_t i = 0; i < kTerms; ++i) matrix[i][i] += ridge;
  for (std::size_t i = 0; i < kTerms; ++i) {
    for (std::size_t row = i + 1; row < kTerms; ++row) {
      const double factor = matrix[row][i] / matrix[i][i];
      for (std::size_t k = i; k < kTerms; ++k) matrix[row][k] -= factor * matrix[i][k];
      right[row] -= factor * right[i];
    }
  }
  for (std::size_t i = kTerms; i-- > 0;) {
    for (std::size_t k = i + 1; k < kTerms; ++k) right[i] -= matrix[i][k] * right[k];
    right[i] /= matrix[i][i];
  }
  return right;
}

// The polynomial through the light of the samples that are lighter than `from` times the one before.
Terms shell_light(const Straight& patch, const std::vector<float>& relative, double from) {
  std::array<Terms, kTerms> matrix{};
  Terms right{};
  const int step = std::max(1, std::max(patch.columns, patch.rows) / 250);
  for (int row = 0; row < patch.rows; row += step) {
    for (int column = 0; column < patch.columns; column += step) {
      const std::size_t i = patch.index(column, row);
      if (relative[i] <= from) continue;
      const Terms terms = terms_at(patch, column, row);
      for (std::size_t a = 0; a < kTerms; ++a) {
        for (std::size_t b = 0; b < kTerms; ++b) matrix[a][b] += terms[a] * terms[b];
        right[a] += terms[a] * patch.light[i];
      }
    }
  }
  return solved(matrix, right);
}

std::vector<float> divided(const Straight& patch, const Terms& shell) {
  std::vector<float> out(patch.light.size());
  const double least =
      std::max(1e-4, 0.05 * shell[0]);  // a fit that falls to nothing at a rim stays a divisor
  for (int row = 0; row < patch.rows; ++row) {
    for (int column = 0; column < patch.columns; ++column) {
      const Terms terms = terms_at(patch, column, row);
      double light = 0.0;
      for (std::size_t a = 0; a < kTerms; ++a) light += shell[a] * terms[a];
      const std::size_t i = patch.index(column, row);
      out[i] = static_cast<float>(patch.light[i] / std::max(least, light));
    }
  }
  return out;
}

// --- two classes ---------------------------------------------------------------------------------

// Roots of light: steps as even to the eye as the bins of a picture, whose dark half would else be one bin.
using Histogram = std::array<double, kBins>;

int bin_of(double light) {
  const double share = std::sqrt(std::clamp(light / kBrightest, 0.0, 1.0));
  return std::min(kBins - 1, static_cast<int>(share * kBins));
}
double light_of_bin(double bin) { return kBrightest * (bin / kBins) * (bin / kBins); }

Histogram histogram_of(const std::vector<float>& light) {
  Histogram out{};
  for (const float each : light) out[bin_of(each)] += 1.0;
  return out;
}

struct Split {
  int first_light = 0;  ///< the first bin of the lighter class
  double separation = 0.0;
};

Split otsu(const Histogram& histogram) {
  double n = 0.0, sum = 0.0, square = 0.0;
  for (int i = 0; i < kBins; ++i) {
    n += histogram[i];
    sum += i * histogram[i];
    square += static_cast<double>(i) * i * histogram[i];
  }
  const double variance = square / n - (sum / n) * (sum / n);
  Split best;
  double below = 0.0, sum_below = 0.0;
  // Between two tones with nothing between them any split is as good: the middle one is taken.
  int same_until = 0;
  for (int i = 1; i < kBins && variance > 0.0; ++i) {
    below += histogram[i - 1];
    sum_below += (i - 1) * histogram[i - 1];
    if (below <= 0.0 || below >= n) continue;
    const double apart = sum_below / below - (sum - sum_below) / (n - below);
    const double separation = below * (n - below) / (n * n) * apart * apart / variance;
    if (separation > best.separation + 1e-12) {
      best = {i, separation};
      same_until = i;
    } else if (histogram[i - 1] == 0.0 && same_until == i - 1) {
      same_until = i;
    }
  }
  best.first_light = (best.first_light + same_until) / 2;
  return best;
}

// The light that a share of the samples in the bins [from, to) lies below.
double quantile(const Histogram& histogram, int from, int to, double share) {
  double n = 0.0, below = 0.0;
  for (int i = from; i < to; ++i) n += histogram[i];
  for (int i = from; i < to; ++i) {
    if (below + histogram[i] >= share * n && histogram[i] > 0.0)
      return light_of_bin(i + (share * n - below) / histogram[i]);
    below += histogram[i];
  }
  return 0.0;
}

// Mean over three by three samples: they are half a pixel apart, so that this takes noise and little else.
std::vector<float> smoothed(const Straight& patch, const std::vector<float>& light) {
  std::vector<float> out(light.size());
  for (int row = 0; row < patch.rows; ++row) {
    for (int column = 0; column < patch.columns; ++column) {
      float sum = 0.0F;
      for (int dy = -1; dy <= 1; ++dy) {
        for (int dx = -1; dx <= 1; ++dx)
          sum += light[patch.index(std::clamp(column + dx, 0, patch.columns - 1),
                                   std::clamp(row + dy, 0, patch.rows - 1))];
      }
      out[patch.index(column, row)] = sum / 9.0F;
    }
  }
  return out;
}

}  // namespace

Vec2 Patch::place(double along, double across) const {
  const double u = (along - 0.5) * width, v = (across - 0.5) * height;
  return centre + Vec2(u * std::cos(angle) - v * std::sin(angle), u * std::sin(angle) + v * std::cos(angle));
}

std::optional<Straight> straighten(const Picture& picture, const PhotoMap& map, const Patch& patch) {
  if (!picture.is_sound() || !(patch.width > 0.0) || !(patch.height > 0.0)) return std::nullopt;
  const auto pixel = map.pixel_size(patch.centre);
  if (!pixel) return std::nullopt;
  Straight out;
  out.pixel = *pixel;
  const double sample = std::max(0.5 * pixel->x(), std::max(patch.width, patch.height) / kLongestSide);
  out.columns = std::max(1, static_cast<int>(std::lround(patch.width / sample)));
  out.rows = std::max(1, static_cast<int>(std::lround(patch.height / sample)));
  out.cell = Vec2(patch.width / out.columns, patch.height / out.rows);
  out.light.resize(out.index(0, out.rows));
  for (int row = 0; row < out.rows; ++row) {
    for (int column = 0; column < out.columns; ++column) {
      const auto place = map.pixel(patch.place((column + 0.5) / out.columns, (row + 0.5) / out.rows));
      const auto light = place ? light_at(picture, *place) : std::nullopt;
      if (!light) return std::nullopt;
      out.light[out.index(column, row)] = static_cast<float>(*light);
    }
  }
  return out;
}

Tones even_light(Straight& patch) {
  constexpr int kRounds = 4;  // the classes settle in two or three
  // Blur carries the rims' light into narrow webs and small holes: their tones are where there is least of
  // it.
  constexpr double kOfLight = 0.85, kOfDark = 0.15;
  std::vector<float> relative(patch.light.size(), 1.0F);
  double from = 0.0;
  for (int round = 0; round < kRounds; ++round) {
    relative = divided(patch, shell_light(patch, relative, from));
    from = light_of_bin(otsu(histogram_of(relative)).first_light);
  }
  relative = smoothed(patch, relative);
  const Histogram histogram = histogram_of(relative);
  const Split split = otsu(histogram);
  const double shell = quantile(histogram, split.first_light, kBins, kOfLight);
  patch.light = std::move(relative);
  if (!(shell > 0.0)) return {};
  for (float& each : patch.light) each = static_cast<float>(each / shell);
  return {split.separation, quantile(histogram, 0, split.first_light, kOfDark) / shell,
          light_of_bin(split.first_light) / shell};
}

}  // namespace tuft::photo
