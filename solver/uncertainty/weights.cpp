#include "solver/uncertainty/weights.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>
#include <utility>

#include "solver/numerics/checks.hpp"

namespace tuft::uncertainty {
namespace {

/// The weights as they are to be used; equal ones if none were given.
std::vector<double> checked(const std::vector<double>& value, const std::vector<double>& weight) {
  if (value.empty()) refuse("sample: at least one value is needed");
  if (!numerics::all_finite(value.data(), value.size())) refuse("sample: every value must be finite");
  if (weight.empty()) return std::vector<double>(value.size(), 1.0);
  if (weight.size() != value.size()) refuse("sample: as many weights as values are needed");
  double sum = 0.0;
  for (const double each : weight) sum += numerics::require_not_negative(each, "weight");
  if (sum <= 0.0) refuse("sample: at least one weight must be above 0");
  return weight;
}

constexpr double kInfinity = std::numeric_limits<double>::infinity();

void require_as_many(std::size_t a, std::size_t b, const char* text) {
  if (a != b) refuse(text);
}

/// Effective number of points of log-weights base + exponent * log_likelihood.
double effective_at(double exponent, const std::vector<double>& log_likelihood,
                    const std::vector<double>& base) {
  std::vector<double> sum(log_likelihood.size());
  for (std::size_t i = 0; i < sum.size(); ++i) {
    // 0 times minus infinity is to be minus infinity: what is impossible stays so.
    const double part = std::isinf(log_likelihood[i]) ? log_likelihood[i] : exponent * log_likelihood[i];
    sum[i] = part + (base.empty() ? 0.0 : base[i]);
  }
  return normalise(sum).effective;
}

}  // namespace

Moments moments(const std::vector<double>& value, const std::vector<double>& given) {
  const std::vector<double> weight = checked(value, given);
  double sum = 0.0, sum_of_squares = 0.0, first = 0.0;
  for (std::size_t i = 0; i < value.size(); ++i) {
    sum += weight[i];
    sum_of_squares += weight[i] * weight[i];
    first += weight[i] * value[i];
  }
  Moments out;
  out.mean = first / sum;
  double second = 0.0;
  for (std::size_t i = 0; i < value.size(); ++i)
    second += weight[i] * (value[i] - out.mean) * (value[i] - out.mean);
  const double left = sum - sum_of_squares / sum;
  out.deviation = left > 1e-12 * sum ? std::sqrt(second / left) : 0.0;
  return out;
}

std::vector<double> quantiles(const std::vector<double>& value, const std::vector<double>& part,
                              const std::vector<double>& given) {
  const std::vector<double> weight = checked(value, given);
  for (const double p : part) {
    if (p >= 0.0 && p <= 1.0) continue;
    refuse("quantile at ", p, ": must be within 0 and 1");
  }
  std::vector<std::size_t> order(value.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  order.erase(std::remove_if(order.begin(), order.end(), [&](std::size_t i) { return weight[i] <= 0.0; }),
              order.end());
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return value[a] < value[b]; });

  // Each value sits in the middle of its own weight.
  std::vector<double> place(order.size());
  double sum = 0.0;
  for (std::size_t k = 0; k < order.size(); ++k) {
    place[k] = sum + 0.5 * weight[order[k]];
    sum += weight[order[k]];
  }
  std::vector<double> out;
  for (const double p : part) {
    const double wanted = p * sum;
    const std::size_t k =
        static_cast<std::size_t>(std::lower_bound(place.begin(), place.end(), wanted) - place.begin());
    if (k == 0) {
      out.push_back(value[order.front()]);
    } else if (k == place.size()) {
      out.push_back(value[order.back()]);
    } else {
      const double share = (wanted - place[k - 1]) / (place[k] - place[k - 1]);
      out.push_back(value[order[k - 1]] + share * (value[order[k]] - value[order[k - 1]]));
    }
  }
  return out;
}

Interval central_interval(const std::vector<double>& value, double level, const std::vector<double>& weight) {
  require_inside(level, "level");
  const std::vector<double> ends = quantiles(value, {0.5 - 0.5 * level, 0.5 + 0.5 * level}, weight);
  return {ends[0], ends[1]};
}

Weights normalise(const std::vector<double>& log_weight) {
  if (log_weight.empty()) refuse("weights: at least one point is needed");
  double largest = -kInfinity;
  for (const double each : log_weight) {
    if (std::isnan(each) || each == kInfinity)
      refuse("weights: a log-likelihood must be a number below infinity");
    largest = std::max(largest, each);
  }
  if (std::isinf(largest)) refuse("weights: no point of the sample can have given the observations");
  Weights out;
  double sum = 0.0, squares = 0.0;
  for (const double each : log_weight) {
    out.value.push_back(std::exp(each - largest));
    sum += out.value.back();
  }
  for (double& each : out.value) {
    each /= sum;
    squares += each * each;
  }
  out.effective = 1.0 / squares;
  return out;
}

std::vector<double> combined(const SampleMatrix& log_likelihood, int without) {
  if (without < -1 || without >= log_likelihood.cols())
    refuse("weights: there is no such observation to leave out");
  std::vector<double> sum(static_cast<std::size_t>(log_likelihood.rows()), 0.0);
  for (Eigen::Index i = 0; i < log_likelihood.rows(); ++i)
    for (Eigen::Index k = 0; k < log_likelihood.cols(); ++k)
      if (k != without) sum[i] += log_likelihood(i, k);
  return sum;
}

std::vector<int> systematic(const std::vector<double>& weight, int count, double start) {
  if (count < 1) refuse("resampling: at least one point is to be drawn");
  if (!(start >= 0.0 && start < 1.0)) refuse("resampling: start must be in [0, 1)");
  std::vector<int> drawn;
  double passed = 0.0;
  std::size_t last = 0;
  for (std::size_t i = 0; i < weight.size(); ++i) {
    if (weight[i] <= 0.0) continue;
    passed += weight[i];
    last = i;
    while (static_cast<int>(drawn.size()) < count &&
           static_cast<double>(drawn.size()) + start < passed * count) {
      drawn.push_back(static_cast<int>(i));
    }
  }
  // Rounding may leave the sum a little short of 1.
  drawn.resize(static_cast<std::size_t>(count), static_cast<int>(last));
  return drawn;
}

std::vector<int> resample(const Weights& weights, int count, std::uint64_t seed) {
  std::vector<std::size_t> order(weights.value.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::make_pair(mix(seed, a), a) < std::make_pair(mix(seed, b), b);
  });
  std::vector<double> shuffled;
  shuffled.reserve(order.size());
  for (const std::size_t i : order) shuffled.push_back(weights.value[i]);
  std::vector<int> drawn = systematic(shuffled, count, unit_uniform(seed, order.size()));
  for (int& each : drawn) each = static_cast<int>(order[each]);
  std::sort(drawn.begin(), drawn.end());
  return drawn;
}

double tempering(const std::vector<double>& log_likelihood, double effective,
                 const std::vector<double>& base) {
  numerics::require_positive(effective, "effective number of points");
  if (!base.empty()) require_as_many(log_likelihood.size(), base.size(), "weights: sizes differ");
  if (effective_at(1.0, log_likelihood, base) >= effective) return 1.0;
  if (effective_at(0.0, log_likelihood, base) < effective) return 0.0;
  double low = 0.0, high = 1.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (effective_at(middle, log_likelihood, base) >= effective ? low : high) = middle;
  }
  return low;
}

PredictiveTail predictive_tail(const Weights& weights, const ErrorModel& model, double reading,
                               const std::vector<double>& shown) {
  require_valid(model);
  require_possible(model, reading);
  require_as_many(weights.value.size(), shown.size(), "weights: one shown value for each point is needed");
  if (!numerics::all_finite(shown.data(), shown.size()))
    refuse("values shown to an instrument: every one must be finite");
  double below = 0.0, above = 0.0;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const ReadingPlace place = place_of_reading(model, reading, shown[i]);
    below += weights.value[i] * (place.below + 0.5 * place.equal);
    above += weights.value[i] * (1.0 - place.below - 0.5 * place.equal);
  }
  return {std::clamp(below, 0.0, 1.0), std::clamp(2.0 * std::min(below, above), 0.0, 1.0)};
}

double lapse_probability(const Weights& weights, const ErrorModel& model, double reading,
                         const std::vector<double>& shown) {
  require_as_many(weights.value.size(), shown.size(), "weights: one shown value for each point is needed");
  const double lapse = lapse_of(model);
  if (lapse <= 0.0) return 0.0;
  const std::vector<double> seen = log_likelihood(without_lapse(model), reading, shown);
  double honest = 0.0;
  for (std::size_t i = 0; i < seen.size(); ++i) honest += weights.value[i] * std::exp(seen[i]);
  const double tossed = lapse / static_cast<double>(outcomes(model).size());
  return tossed / (tossed + (1.0 - lapse) * honest);
}

}  // namespace tuft::uncertainty
