#include "solver/experiment/learned_spread.hpp"

#include <algorithm>
#include <cmath>

#include "solver/numerics/constants.hpp"

namespace tuft::experiment {
namespace {

using geometry::SpreadKind;
using geometry::Value;

constexpr double kWellMet = 0.03;       // largest difference of cumulative probabilities (judgement)
constexpr std::size_t kSteps = 16;      // parts of a spread in steps
constexpr double kLeastAgreed = 0.005;  // half a percent is no difference (judgement)

/// Largest difference between a distribution and sorted values.
double distance(const uncertainty::Distribution& distribution, const std::vector<double>& sorted) {
  const double n = static_cast<double>(sorted.size());
  double largest = 0.0;
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    const double here = uncertainty::cumulative(distribution, sorted[i]), below = static_cast<double>(i) / n;
    largest = std::max({largest, std::abs(here - below), std::abs(here - below - 1.0 / n)});
  }
  return largest;
}

/// Values between which equal parts lie. In the outer parts the ends are set so that their middle is the mean
/// of what lies there: the outermost value alone tells little.
std::vector<double> steps_of(const uncertainty::Distribution& prior, const std::vector<double>& sorted) {
  std::vector<double> parts;
  for (std::size_t k = 1; k < kSteps; ++k) parts.push_back(static_cast<double>(k) / kSteps);
  std::vector<double> steps = uncertainty::quantiles(sorted, parts);
  const auto mean_between = [&](double low, double high) {
    double sum = 0.0, count = 0.0;
    for (const double each : sorted) {
      if (each < low || each > high) continue;
      sum += each;
      count += 1.0;
    }
    return count > 0.0 ? sum / count : std::clamp(0.5 * (low + high), low, high);
  };
  const double first = steps.front(), last = steps.back();
  const double low = first - 2.0 * (first - mean_between(sorted.front(), first));
  const double high = last + 2.0 * (mean_between(last, sorted.back()) - last);
  steps.insert(steps.begin(), std::clamp(low, std::max(prior.floor, sorted.front()), first));
  steps.push_back(std::clamp(high, last, std::min(prior.ceiling, sorted.back())));
  return steps;
}

uncertainty::Distribution shaped(const uncertainty::Distribution& prior, uncertainty::Shape shape,
                                 double nominal, double low, double high) {
  return {shape, nominal, low, high, prior.floor, prior.ceiling, {}};
}

double half_width(const uncertainty::Probability& probability) {
  return 0.5 * (probability.interval.high - probability.interval.low);
}

}  // namespace

LearnedSpread learned_spread(const study::Input& input, std::vector<double> values) {
  using uncertainty::Shape;
  std::sort(values.begin(), values.end());
  const uncertainty::Moments moments = uncertainty::moments(values);
  const double half = numerics::kDeviations95 * moments.deviation;
  const double low = moments.mean - half, high = moments.mean + half;
  const auto meets = [&](Shape shape, double nominal, double from, double to) {
    return distance(shaped(input.prior, shape, nominal, from, to), values) <= kWellMet;
  };
  if (low > input.prior.floor && high < input.prior.ceiling && meets(Shape::normal, moments.mean, low, high))
    return {{moments.mean, SpreadKind::normal, low, high}, {}};
  const std::vector<double> steps = steps_of(input.prior, values);
  const double from = steps.front(), to = steps.back(), middle = 0.5 * (from + to);
  if (input.prior.shape == Shape::uniform && meets(Shape::uniform, middle, from, to))
    return {{middle, SpreadKind::uniform, from, to}, {}};
  if (input.prior.shape == Shape::log_uniform && from > 0.0 &&
      meets(Shape::log_uniform, std::sqrt(from * to), from, to))
    return {{std::sqrt(from * to), SpreadKind::log_uniform, from, to}, {}};
  return {{steps[kSteps / 2], SpreadKind::steps, from, to}, steps};
}

std::vector<int> places_of(const uncertainty::Distribution& distribution, const std::vector<double>& values,
                           int parts) {
  std::vector<int> out;
  for (const double value : values)
    out.push_back(
        std::clamp(static_cast<int>(uncertainty::cumulative(distribution, value) * parts), 0, parts - 1));
  return out;
}

std::vector<ClaimProbability> probabilities_of(const geometry::Case& content, const Questions& questions,
                                               const LearnOptions& options) {
  const study::Sampler sampler(content, questions.conditions);
  const auto inputs = static_cast<int>(sampler.inputs().size());
  const int count = options.per_replicate * options.replicates;
  // Another stream than those of the rounds, which the case was made from.
  const std::uint64_t seed = uncertainty::mix(options.seed, 0x1ea47ed);
  uncertainty::SampleMatrix points(options.replicates, 0);
  if (inputs > 0) points = uncertainty::Replicates(inputs, options.replicates, seed).points(0, count);
  const study::Batch batch = sampler.run(points);
  return probabilities(content, questions, {batch.views, batch.weights, options.replicates});
}

bool reproduces(const std::vector<ClaimProbability>& learned, const std::vector<ClaimProbability>& found) {
  for (std::size_t c = 0; c < learned.size(); ++c) {
    const uncertainty::Probability &wanted = learned[c].probability, &here = found[c].probability;
    const double stated = half_width(wanted) + half_width(here);
    if (std::abs(here.value - wanted.value) > std::max(kLeastAgreed, 0.5 * stated)) return false;
    if (learned[c].settled && learned[c].verdict != found[c].verdict) return false;
  }
  return true;
}

}  // namespace tuft::experiment
