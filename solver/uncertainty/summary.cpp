#include "solver/uncertainty/summary.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <sstream>
#include <stdexcept>

#include "solver/numerics/checks.hpp"

namespace tuft::doubt {

namespace {

/// The weights as they are to be used; equal ones if none were given.
std::vector<double> checked(const std::vector<double>& value, const std::vector<double>& weight) {
  if (value.empty()) throw std::invalid_argument("sample: at least one value is needed");
  if (!base::all_finite(value.data(), value.size())) {
    throw std::invalid_argument("sample: every value must be finite");
  }
  if (weight.empty()) return std::vector<double>(value.size(), 1.0);
  if (weight.size() != value.size())
    throw std::invalid_argument("sample: as many weights as values are needed");
  double sum = 0.0;
  for (const double each : weight) sum += base::require_not_negative(each, "weight");
  if (sum <= 0.0) throw std::invalid_argument("sample: at least one weight must be above 0");
  return weight;
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
  for (std::size_t i = 0; i < value.size(); ++i) {
    second += weight[i] * (value[i] - out.mean) * (value[i] - out.mean);
  }
  const double left = sum - sum_of_squares / sum;
  out.deviation = left > 1e-12 * sum ? std::sqrt(second / left) : 0.0;
  return out;
}

std::vector<double> quantiles(const std::vector<double>& value, const std::vector<double>& part,
                              const std::vector<double>& given) {
  const std::vector<double> weight = checked(value, given);
  for (const double p : part) {
    if (p >= 0.0 && p <= 1.0) continue;
    std::ostringstream text;
    text << "quantile at " << p << ": must be within 0 and 1";
    throw std::invalid_argument(text.str());
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
  if (!(level > 0.0 && level < 1.0)) {
    std::ostringstream text;
    text << "level = " << level << ": must be > 0 and < 1";
    throw std::invalid_argument(text.str());
  }
  const std::vector<double> ends = quantiles(value, {0.5 - 0.5 * level, 0.5 + 0.5 * level}, weight);
  return {ends[0], ends[1]};
}

}  // namespace tuft::doubt
