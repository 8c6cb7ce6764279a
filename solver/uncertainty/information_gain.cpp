#include "solver/uncertainty/information_gain.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>

#include "solver/numerics/checks.hpp"
#include "solver/uncertainty/sample_matrix.hpp"
#include "solver/uncertainty/sobol.hpp"

namespace tuft::uncertainty {
namespace {

using Events = std::vector<std::vector<double>>;

/// The points used, with their weights.
struct Thinned {
  std::vector<std::size_t> point;
  std::vector<double> weight;
};

Thinned thinned(const Weights& weights, const InformationGainRule& rule) {
  Thinned out;
  const std::size_t n = weights.value.size();
  if (n <= static_cast<std::size_t>(rule.most_points)) {
    for (std::size_t i = 0; i < n; ++i) {
      if (weights.value[i] > 0.0) {
        out.point.push_back(i);
        out.weight.push_back(weights.value[i]);
      }
    }
    return out;
  }
  // A point drawn several times is kept once with as many weights, so that it can be left out as one.
  for (const int i : resample(weights, rule.most_points, mix(rule.seed, 0))) {
    const std::size_t each = static_cast<std::size_t>(i);
    if (out.point.empty() || out.point.back() != each) {
      out.point.push_back(each);
      out.weight.push_back(0.0);
    }
    out.weight.back() += 1.0 / rule.most_points;
  }
  return out;
}

std::vector<double> picked(const std::vector<double>& value, const std::vector<std::size_t>& point) {
  std::vector<double> out;
  out.reserve(point.size());
  for (const std::size_t i : point) out.push_back(value[i]);
  return out;
}

/// What is known after one reading: its own probability (up to a factor) and that of each claim.
struct Outcome {
  double chance = 0.0;
  std::vector<double> claim;
};

constexpr std::size_t kNobody = std::numeric_limits<std::size_t>::max();

/// Reweights by a reading, point `without` left out.
Outcome after(const Candidate& candidate, double reading, std::size_t without, const Events& claims,
              const std::vector<double>& weight) {
  std::vector<double> l = log_likelihood(candidate.error, reading, candidate.shown);
  if (without != kNobody) l[without] = -std::numeric_limits<double>::infinity();
  const double largest = *std::max_element(l.begin(), l.end());
  Outcome out;
  out.claim.assign(claims.size(), 0.0);
  if (std::isinf(largest)) return out;
  double sum = 0.0;
  for (std::size_t i = 0; i < l.size(); ++i) {
    const double w = weight[i] * std::exp(l[i] - largest);
    sum += w;
    for (std::size_t c = 0; c < claims.size(); ++c) out.claim[c] += w * claims[c][i];
  }
  if (!(sum > 0.0)) return out;
  out.chance = sum * std::exp(largest);
  for (double& each : out.claim) each = std::clamp(each / sum, 0.0, 1.0);
  return out;
}

/// Readings that can be listed: their expectation is exact.
InformationGain gain_of_listed(const Candidate& candidate, const Events& claims,
                               const std::vector<double>& weight, const std::vector<double>& now) {
  InformationGain out;
  out.gain = now;
  out.error.assign(claims.size(), 0.0);
  for (const double reading : outcomes(candidate.error)) {
    const Outcome outcome = after(candidate, reading, kNobody, claims, weight);
    for (std::size_t c = 0; c < claims.size(); ++c)
      out.gain[c] -= outcome.chance * entropy_of(outcome.claim[c]);
  }
  return out;
}

/// One imagined reading.
struct Imagined {
  std::size_t from = 0;  ///< the point that gave it
  double reading = 0.0;
};

/// Readings spread evenly over the points, in the order of what they show, and over the instrument's error: a
/// Hammersley set over both.
std::vector<Imagined> imagine(const Candidate& candidate, const std::vector<double>& weight,
                              const InformationGainRule& rule) {
  std::vector<std::size_t> order(weight.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return candidate.shown[a] < candidate.shown[b]; });
  const std::vector<int> drawn = systematic(picked(weight, order), rule.readings, unit_uniform(rule.seed, 1));
  const Sobol error(1, mix(rule.seed, 2));
  std::vector<Imagined> out;
  for (std::size_t m = 0; m < drawn.size(); ++m) {
    const std::size_t from = order[drawn[m]];
    out.push_back({from, simulated_reading(candidate.error, candidate.shown[from], error.at(m, 0))});
  }
  return out;
}

InformationGain gain_of_number(const Candidate& candidate, const Events& claims,
                               const std::vector<double>& weight, const std::vector<double>& now,
                               const InformationGainRule& rule) {
  const std::vector<Imagined> readings = imagine(candidate, weight, rule);
  std::vector<std::vector<double>> gain(readings.size(), std::vector<double>(claims.size(), 0.0));
  for_each_piece(static_cast<long>(readings.size()), [&](long m) {
    const Imagined& each = readings[m];
    const Outcome outcome = after(candidate, each.reading, each.from, claims, weight);
    if (!(outcome.chance > 0.0)) return;  // no other point explains it: nothing is learned
    for (std::size_t c = 0; c < claims.size(); ++c) gain[m][c] = now[c] - entropy_of(outcome.claim[c]);
  });
  InformationGain out;
  const double n = static_cast<double>(readings.size());
  for (std::size_t c = 0; c < claims.size(); ++c) {
    double mean = 0.0, squares = 0.0;
    for (const auto& each : gain) mean += each[c] / n;
    for (const auto& each : gain) squares += (each[c] - mean) * (each[c] - mean);
    out.gain.push_back(mean);
    out.error.push_back(std::sqrt(squares / (n * (n - 1.0))));
  }
  return out;
}

void check(const std::vector<Candidate>& candidates, const Events& claims, const Weights& weights,
           const InformationGainRule& rule) {
  const std::size_t n = weights.value.size();
  if (rule.readings < 2 || rule.most_points < 2)
    refuse("worth: at least two readings and two points are needed");
  for (const Candidate& candidate : candidates) {
    require_valid(candidate.error);
    if (candidate.shown.size() != n) refuse("worth: one shown value for each point is needed");
    if (!numerics::all_finite(candidate.shown.data(), n)) refuse("worth: every shown value must be finite");
  }
  for (const auto& claim : claims) {
    if (claim.size() != n) refuse("worth: one event of each claim for each point is needed");
    const bool inside =
        std::all_of(claim.begin(), claim.end(), [](double e) { return e >= 0.0 && e <= 1.0; });
    if (!inside) refuse("worth: every event must be within 0 and 1");
  }
}

}  // namespace

double entropy_of(double p) {
  if (!(p >= 0.0 && p <= 1.0)) refuse("probability = ", p, ": must be within 0 and 1");
  if (p == 0.0 || p == 1.0) return 0.0;
  return -p * std::log2(p) - (1.0 - p) * std::log2(1.0 - p);
}

std::vector<InformationGain> rank_information_gain(const std::vector<Candidate>& candidates,
                                                   const Events& claims, const Weights& weights,
                                                   const InformationGainRule& rule) {
  check(candidates, claims, weights, rule);
  const Thinned sample = thinned(weights, rule);
  Events events;
  std::vector<double> now;
  for (const auto& claim : claims) {
    events.push_back(picked(claim, sample.point));
    const double p =
        std::inner_product(sample.weight.begin(), sample.weight.end(), events.back().begin(), 0.0);
    now.push_back(entropy_of(std::clamp(p, 0.0, 1.0)));
  }
  std::vector<InformationGain> ranked;
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    const Candidate candidate{candidates[k].error, picked(candidates[k].shown, sample.point)};
    InformationGain gains = outcomes(candidate.error).empty()
                                ? gain_of_number(candidate, events, sample.weight, now, rule)
                                : gain_of_listed(candidate, events, sample.weight, now);
    gains.candidate = static_cast<int>(k);
    gains.total = std::accumulate(gains.gain.begin(), gains.gain.end(), 0.0);
    ranked.push_back(gains);
  }
  std::stable_sort(ranked.begin(), ranked.end(),
                   [](const InformationGain& a, const InformationGain& b) { return a.total > b.total; });
  return ranked;
}

}  // namespace tuft::uncertainty
