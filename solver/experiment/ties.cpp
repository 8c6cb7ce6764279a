#include "solver/experiment/ties.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "solver/uncertainty/normal.hpp"

namespace tuft::belief {
namespace {

constexpr double kStandsOut =
    5.0;  // standard errors of a correlation of 0, among thousands of pairs (judgement)
constexpr double kStrongestTie = 0.99;  // a file can hold no more, and a sample tells no more (judgement)

// Normal scores of weighted ranks, mean 0 and mean square 1; empty for an input that does not vary.
std::vector<double> scores_of(const doubt::Rows& values, Eigen::Index input,
                              const std::vector<double>& weights) {
  std::vector<std::size_t> order(weights.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto value = [&](std::size_t i) { return values(static_cast<Eigen::Index>(i), input); };
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return value(a) < value(b); });
  if (order.empty() || value(order.front()) == value(order.back())) return {};
  std::vector<double> out(weights.size(), 0.0);
  double below = 0.0, mean = 0.0, square = 0.0;
  for (const std::size_t i : order) {
    if (weights[i] <= 0.0) continue;
    const double middle = std::clamp(below + 0.5 * weights[i], 1e-12, 1.0 - 1e-12);
    below += weights[i];
    out[i] = doubt::normal_quantile(middle);
    mean += weights[i] * out[i];
    square += weights[i] * out[i] * out[i];
  }
  const double deviation = std::sqrt(std::max(0.0, square - mean * mean));
  if (deviation <= 0.0) return {};
  for (double& score : out) score = (score - mean) / deviation;
  return out;
}

}  // namespace

std::vector<Tie> ties(const doubt::Rows& values, const std::vector<double>& weights, double effective,
                      double least) {
  const double needed = std::max(least, kStandsOut / std::sqrt(std::max(1.0, effective)));
  const double sum = std::accumulate(weights.begin(), weights.end(), 0.0);
  std::vector<Tie> out;
  if (needed >= 1.0 || sum <= 0.0) return out;
  std::vector<double> share = weights;
  for (double& weight : share) weight /= sum;
  std::vector<std::vector<double>> scores;
  for (Eigen::Index input = 0; input < values.cols(); ++input)
    scores.push_back(scores_of(values, input, share));
  for (std::size_t a = 0; a < scores.size(); ++a) {
    for (std::size_t b = a + 1; b < scores.size() && !scores[a].empty(); ++b) {
      if (scores[b].empty()) continue;
      double r = 0.0;
      for (std::size_t i = 0; i < share.size(); ++i) r += share[i] * scores[a][i] * scores[b][i];
      if (std::abs(r) >= needed)
        out.push_back(
            {static_cast<int>(a), static_cast<int>(b), std::clamp(r, -kStrongestTie, kStrongestTie)});
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const Tie& a, const Tie& b) {
    return std::abs(a.correlation) > std::abs(b.correlation);
  });
  return out;
}

}  // namespace tuft::belief
