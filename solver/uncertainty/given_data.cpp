#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>

#include "solver/numerics/checks.hpp"
#include "solver/uncertainty/indices.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {
namespace {

constexpr std::uint32_t kFolds = 20;    // of the jackknife
constexpr std::uint64_t kFoldKey = 20;  // any number

/// Sums of an output over some points.
struct Sums {
  double points = 0.0, value = 0.0, squared_value = 0.0;

  void add(double y) {
    points += 1.0;
    value += y;
    squared_value += y * y;
  }
  double mean() const { return value / points; }
  /// Unbiased variance of the output; the plain one of a single point.
  double variance() const {
    const double plain = std::max(0.0, squared_value / points - mean() * mean());
    return points > 1.5 ? plain * points / (points - 1.0) : plain;
  }
};

/// Outputs without one fold; fold == kFolds leaves out none.
struct Sample {
  const std::vector<double>& output;
  std::size_t fold = kFolds;

  /// Folds by chance: every twentieth point of a Sobol' sequence is not just any sample of it.
  bool has(std::size_t i) const { return fold == kFolds || below_count(kFoldKey, i, kFolds) != fold; }
};

/// The index of an input along which the points stand in `order`.
double index_along(const std::vector<std::size_t>& order, const Sample& sample, int bins) {
  Sums all;
  for (std::size_t i = 0; i < sample.output.size(); ++i)
    if (sample.has(i)) all.add(sample.output[i]);
  const double whole = all.variance();
  if (!(whole > 0.0)) return 0.0;
  std::vector<Sums> bin(static_cast<std::size_t>(bins));
  double passed = 0.0;
  for (const std::size_t i : order) {
    if (!sample.has(i)) continue;
    const int b = std::clamp(static_cast<int>((passed + 0.5) / all.points * bins), 0, bins - 1);
    bin[b].add(sample.output[i]);
    passed += 1.0;
  }
  double between = 0.0, feigned = 0.0;
  for (const Sums& each : bin) {
    if (each.points <= 0.0) continue;
    const double share = each.points / all.points;
    const double off = each.mean() - all.mean();
    // A bin with hardly more than one point doesn't show its own scatter: the whole sample's stands in.
    const double scatter = each.points > 2.0 ? each.variance() : whole;
    between += share * off * off;
    feigned += share * (1.0 - share) * scatter / each.points;
  }
  return (between - feigned) / whole;
}

GivenDataIndex index_of(const SampleMatrix& inputs, Eigen::Index column, const std::vector<double>& output,
                        int bins) {
  const auto x = inputs.col(column);
  if (x.minCoeff() == x.maxCoeff()) return {};
  std::vector<std::size_t> order(output.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return x[static_cast<Eigen::Index>(a)] < x[static_cast<Eigen::Index>(b)];
  });
  GivenDataIndex out;
  out.first = index_along(order, {output}, bins);
  double mean = 0.0;
  std::vector<double> without(kFolds);
  for (std::size_t f = 0; f < kFolds; ++f) {
    without[f] = index_along(order, {output, f}, bins);
    mean += without[f] / static_cast<double>(kFolds);
  }
  double squares = 0.0;
  for (const double each : without) squares += (each - mean) * (each - mean);
  out.error = std::sqrt(squares * (static_cast<double>(kFolds) - 1.0) / static_cast<double>(kFolds));
  return out;
}

}  // namespace

std::vector<GivenDataIndex> given_data_indices(const SampleMatrix& inputs,
                                               const std::vector<double>& output) {
  if (static_cast<std::size_t>(inputs.rows()) != output.size())
    refuse("sensitivity: one output for each row of inputs is needed");
  const bool finite = numerics::all_finite(output.data(), output.size()) &&
                      numerics::all_finite(inputs.data(), static_cast<std::size_t>(inputs.size()));
  if (!finite) refuse("sensitivity: every input and output must be finite");
  const std::size_t points = output.size();
  if (points < 2 * kFolds) refuse("sensitivity: at least 40 points are needed");
  const int most = std::min(32, static_cast<int>(points / 10));
  const int bins = std::clamp(static_cast<int>(std::sqrt(static_cast<double>(points)) / 2.0), 4, most);
  // Sums of squares lose digits on a large mean.
  std::vector<double> centred = output;
  const double mean = std::accumulate(output.begin(), output.end(), 0.0) / static_cast<double>(output.size());
  for (double& each : centred) each -= mean;
  const auto ends = std::minmax_element(output.begin(), output.end());
  std::vector<GivenDataIndex> out(static_cast<std::size_t>(inputs.cols()));
  if (*ends.first == *ends.second) return out;
  for_each_piece(inputs.cols(), [&](long j) { out[j] = index_of(inputs, j, centred, bins); });
  return out;
}

}  // namespace tuft::uncertainty
