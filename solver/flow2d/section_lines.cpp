#include "solver/flow2d/section_lines.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::section {
namespace {

constexpr int kSamples = 400;  // of the size, between two lines

class Sizes {
 public:
  Sizes(const std::vector<Line>& lines, double growth, double largest)
      : lines_(lines), growth_(growth), largest_(largest) {}
  double at(double x) const {
    double size = largest_;
    for (const Line& l : lines_) size = std::min(size, l.size + growth_ * std::abs(x - l.at));
    return size;
  }

 private:
  const std::vector<Line>& lines_;
  double growth_, largest_;
};

/// Faces between two lines: the sum of dx / size is shared out evenly.
void add_faces(const Sizes& sizes, double low, double high, std::vector<double>* faces) {
  const double step = (high - low) / kSamples;
  std::vector<double> sum(kSamples + 1, 0.0);
  for (int k = 0; k < kSamples; ++k)
    sum[static_cast<std::size_t>(k) + 1] =
        sum[static_cast<std::size_t>(k)] + step / sizes.at(low + (k + 0.5) * step);
  // A tenth of a cell too many is no reason for one more.
  const int n = std::max(1, static_cast<int>(std::ceil(sum.back() - 0.1)));
  std::size_t at = 0;
  for (int k = 1; k < n; ++k) {
    const double wanted = sum.back() * k / n;
    while (sum[at + 1] < wanted) ++at;
    faces->push_back(low + step * (static_cast<double>(at) + (wanted - sum[at]) / (sum[at + 1] - sum[at])));
  }
  faces->push_back(high);
}

}  // namespace

field::Axis axis_through(const std::vector<Line>& lines, double growth, double largest) {
  std::vector<double> kept;
  for (const Line& l : lines) {
    const bool close =
        std::any_of(kept.begin(), kept.end(), [&](double x) { return std::abs(x - l.at) < l.size / 3; });
    if (!close) kept.push_back(l.at);
  }
  std::sort(kept.begin(), kept.end());
  const Sizes sizes(lines, growth, largest);
  std::vector<double> faces{kept.front()};
  for (std::size_t k = 1; k < kept.size(); ++k) add_faces(sizes, kept[k - 1], kept[k], &faces);
  return field::Axis(std::move(faces));
}

}  // namespace tuft::section
