#include "solver/uncertainty/given_data.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <stdexcept>

#include "solver/numerics/checks.hpp"
#include "solver/uncertainty/hash.hpp"
#include "solver/uncertainty/parallel.hpp"

namespace tuft::doubt {

namespace {

constexpr std::uint32_t kFolds = 20;    // of the jackknife
constexpr std::uint64_t kFoldKey = 20;  // any number

/// Weighted sums of an output.
struct Sums {
  double weight = 0.0, squared_weight = 0.0, value = 0.0, squared_value = 0.0;

  void add(double w, double y) {
    weight += w;
    squared_weight += w * w;
    value += w * y;
    squared_value += w * y * y;
  }
  double mean() const { return value / weight; }
  double effective() const { return weight * weight / squared_weight; }
  /// Unbiased variance of the output; the plain one if one point carries nearly all of the weight.
  double variance() const {
    const double plain = std::max(0.0, squared_value / weight - mean() * mean());
    const double n = effective();
    return n > 1.5 ? plain * n / (n - 1.0) : plain;
  }
};

/// A sample without one fold; fold == kFolds leaves out none.
struct Sample {
  const std::vector<double>& output;
  const std::vector<double>& weight;
  std::size_t fold = kFolds;

  /// Folds by chance: every twentieth point of a Sobol' sequence is not just any sample of it.
  bool has(std::size_t i) const { return fold == kFolds || below_count(kFoldKey, i, kFolds) != fold; }
};

Sums sums_of(const Sample& sample) {
  Sums all;
  for (std::size_t i = 0; i < sample.output.size(); ++i) {
    if (sample.has(i)) all.add(sample.weight[i], sample.output[i]);
  }
  return all;
}

/// The index of an input along which the points stand in `order`.
double index_along(const std::vector<std::size_t>& order, const Sample& sample, int bins) {
  const Sums all = sums_of(sample);
  const double whole = all.variance();
  if (!(whole > 0.0)) return 0.0;
  std::vector<Sums> bin(static_cast<std::size_t>(bins));
  double passed = 0.0;
  for (const std::size_t i : order) {
    if (!sample.has(i) || sample.weight[i] <= 0.0) continue;
    const double middle = (passed + 0.5 * sample.weight[i]) / all.weight;
    const int b = std::clamp(static_cast<int>(middle * bins), 0, bins - 1);
    bin[static_cast<std::size_t>(b)].add(sample.weight[i], sample.output[i]);
    passed += sample.weight[i];
  }
  double between = 0.0, feigned = 0.0;
  for (const Sums& each : bin) {
    if (each.weight <= 0.0) continue;
    const double share = each.weight / all.weight;
    const double off = each.mean() - all.mean();
    const double n = each.effective();
    // A bin with hardly more than one point doesn't show its own scatter: the whole sample's stands in.
    const double scatter = n > 2.0 ? each.variance() : whole;
    between += share * off * off;
    feigned += share * (1.0 - share) * scatter / n;
  }
  return (between - feigned) / whole;
}

GivenIndex index_of(const Rows& inputs, Eigen::Index column, const std::vector<double>& output,
                    const std::vector<double>& weight, int bins) {
  const auto x = inputs.col(column);
  if (x.minCoeff() == x.maxCoeff()) return {};
  std::vector<std::size_t> order(output.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return x[static_cast<Eigen::Index>(a)] < x[static_cast<Eigen::Index>(b)];
  });
  GivenIndex out;
  out.first = index_along(order, {output, weight}, bins);
  double mean = 0.0;
  std::vector<double> without(kFolds);
  for (std::size_t f = 0; f < kFolds; ++f) {
    without[f] = index_along(order, {output, weight, f}, bins);
    mean += without[f] / static_cast<double>(kFolds);
  }
  double squares = 0.0;
  for (const double each : without) squares += (each - mean) * (each - mean);
  out.error = std::sqrt(squares * (static_cast<double>(kFolds) - 1.0) / static_cast<double>(kFolds));
  return out;
}

std::vector<double> checked_weights(std::size_t points, const std::vector<double>& weight) {
  if (weight.empty()) return std::vector<double>(points, 1.0);
  if (weight.size() != points)
    throw std::invalid_argument("sensitivity: as many weights as points are needed");
  double sum = 0.0;
  for (const double each : weight) sum += base::require_not_negative(each, "weight");
  if (sum <= 0.0) throw std::invalid_argument("sensitivity: at least one weight must be above 0");
  return weight;
}

int checked_bins(int bins, std::size_t points) {
  if (points < 2 * kFolds) throw std::invalid_argument("sensitivity: at least 40 points are needed");
  const int most = static_cast<int>(points / 10);
  if (bins == 0) {
    return std::clamp(static_cast<int>(std::sqrt(static_cast<double>(points)) / 2.0), 4, std::min(32, most));
  }
  if (bins < 2 || bins > most) {
    throw std::invalid_argument("sensitivity: bins must be 2 or more, and at most a tenth of the points");
  }
  return bins;
}

}  // namespace

std::vector<GivenIndex> given_data_indices(const Rows& inputs, const std::vector<double>& output,
                                           const std::vector<double>& given, int bins) {
  if (static_cast<std::size_t>(inputs.rows()) != output.size()) {
    throw std::invalid_argument("sensitivity: one output for each row of inputs is needed");
  }
  const bool finite = base::all_finite(output.data(), output.size()) &&
                      base::all_finite(inputs.data(), static_cast<std::size_t>(inputs.size()));
  if (!finite) throw std::invalid_argument("sensitivity: every input and output must be finite");
  const std::vector<double> weight = checked_weights(output.size(), given);
  const int used = checked_bins(bins, output.size());
  // Sums of squares lose digits on a large mean.
  std::vector<double> centred = output;
  const double mean = std::accumulate(output.begin(), output.end(), 0.0) / static_cast<double>(output.size());
  for (double& each : centred) each -= mean;
  const auto ends = std::minmax_element(output.begin(), output.end());
  std::vector<GivenIndex> out(static_cast<std::size_t>(inputs.cols()));
  if (*ends.first == *ends.second) return out;
  for_each_piece(inputs.cols(), [&](long j) {
    out[static_cast<std::size_t>(j)] = index_of(inputs, j, centred, weight, used);
  });
  return out;
}

}  // namespace tuft::doubt
