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
  double points = 1.0;  ///< effective ones that are left
  std::vector<double> claim;
};

/// What a claim is known by now: its probability and entropy.
struct Known {
  double probability = 0.0;
  double entropy = 0.0;
};

/// By how much the entropy of a share falls short of that of the probability p, on average over samples of so
/// many points: the drop that chance feigns. The leading term where there are many points on either side,
/// else the binomial sum.
double feigned_drop(const Known& now, double points) {
  const double n = std::max(1.0, std::round(points)), p = std::min(now.probability, 1.0 - now.probability);
  if (p <= 0.0) return 0.0;
  if (n * p > 20.0) return std::min(now.entropy, 1.0 / (2.0 * n * std::log(2.0)));
  double chance = std::exp(n * std::log1p(-p)), passed = chance, left = 0.0;
  for (double k = 1.0; k <= n && passed < 1.0 - 1e-9; k += 1.0) {
    chance *= (n - k + 1.0) / k * p / (1.0 - p);
    passed += chance;
    left += chance * entropy_of(k / n);
  }
  return std::max(0.0, now.entropy - left);
}

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
  double sum = 0.0, squares = 0.0;
  for (std::size_t i = 0; i < l.size(); ++i) {
    const double w = weight[i] * std::exp(l[i] - largest);
    sum += w;
    squares += w * w;
    for (std::size_t c = 0; c < claims.size(); ++c) out.claim[c] += w * claims[c][i];
  }
  if (!(sum > 0.0)) return out;
  out.chance = sum * std::exp(largest);
  out.points = sum * sum / squares;
  for (double& each : out.claim) each = std::clamp(each / sum, 0.0, 1.0);
  return out;
}

/// Takes off what chance feigns: seen = true + feigned (1 - true/entropy). `feigned` is that of each claim;
/// `apart` how many sets of points the readings leave that have none in common.
void correct(const std::vector<Known>& now, const std::vector<double>& feigned, double apart,
             InformationGain& out) {
  for (std::size_t c = 0; c < now.size(); ++c) {
    if (now[c].entropy <= 0.0) continue;
    const double feigned_share = std::min(0.5, feigned[c] / now[c].entropy);  // more is no basis for anything
    out.gain[c] = (out.gain[c] - feigned[c]) / (1.0 - feigned_share);
    // The drop that one set feigns is half a squared normal variable over its points: it scatters by sqrt(2)
    // of its mean. Claims may go together, so that their deviations add.
    out.noise += std::sqrt(2.0 / std::max(1.0, apart)) * feigned[c];
  }
}

/// Readings that can be listed: their expectation is exact.
InformationGain gain_of_listed(const Candidate& candidate, const Events& claims,
                               const std::vector<double>& weight, const std::vector<Known>& now) {
  InformationGain out;
  for (const Known& each : now) out.gain.push_back(each.entropy);
  out.error.assign(claims.size(), 0.0);
  std::vector<double> feigned(claims.size(), 0.0);
  for (const double reading : outcomes(candidate.error)) {
    const Outcome outcome = after(candidate, reading, kNobody, claims, weight);
    if (!(outcome.chance > 0.0)) continue;
    for (std::size_t c = 0; c < claims.size(); ++c) {
      out.gain[c] -= outcome.chance * entropy_of(outcome.claim[c]);
      feigned[c] += outcome.chance * feigned_drop(now[c], outcome.points);
    }
  }
  correct(now, feigned, 1.0, out);
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
                               const std::vector<double>& weight, const std::vector<Known>& now,
                               const InformationGainRule& rule) {
  const std::vector<Imagined> readings = imagine(candidate, weight, rule);
  std::vector<std::vector<double>> gain(readings.size(), std::vector<double>(claims.size(), 0.0));
  std::vector<double> feigned(claims.size(), 0.0);
  const double n = static_cast<double>(readings.size());
  double points = 0.0;
  for (std::size_t m = 0; m < readings.size(); ++m) {
    const Outcome outcome = after(candidate, readings[m].reading, readings[m].from, claims, weight);
    if (!(outcome.chance > 0.0)) continue;  // no other point explains it: nothing is learned
    points += outcome.points / n;
    for (std::size_t c = 0; c < claims.size(); ++c) {
      gain[m][c] = now[c].entropy - entropy_of(outcome.claim[c]);
      feigned[c] += feigned_drop(now[c], outcome.points) / n;
    }
  }
  InformationGain out;
  for (std::size_t c = 0; c < claims.size(); ++c) {
    double mean = 0.0, squares = 0.0;
    for (const auto& each : gain) mean += each[c] / n;
    for (const auto& each : gain) squares += (each[c] - mean) * (each[c] - mean);
    out.gain.push_back(mean);
    out.error.push_back(std::sqrt(squares / (n * (n - 1.0))));
  }
  const double apart = std::min(n, static_cast<double>(weight.size()) / std::max(1.0, points));
  correct(now, feigned, apart, out);
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
  std::vector<Known> now;
  for (const auto& claim : claims) {
    events.push_back(picked(claim, sample.point));
    const double p =
        std::inner_product(sample.weight.begin(), sample.weight.end(), events.back().begin(), 0.0);
    now.push_back({std::clamp(p, 0.0, 1.0), entropy_of(std::clamp(p, 0.0, 1.0))});
  }
  std::vector<InformationGain> ranked(candidates.size());
  for_each_task(static_cast<long>(candidates.size()), [&](long k) {
    const Candidate candidate{candidates[k].error, picked(candidates[k].shown, sample.point)};
    ranked[k] = outcomes(candidate.error).empty()
                    ? gain_of_number(candidate, events, sample.weight, now, rule)
                    : gain_of_listed(candidate, events, sample.weight, now);
    ranked[k].candidate = static_cast<int>(k);
    ranked[k].total = std::accumulate(ranked[k].gain.begin(), ranked[k].gain.end(), 0.0);
  });
  std::stable_sort(ranked.begin(), ranked.end(),
                   [](const InformationGain& a, const InformationGain& b) { return a.total > b.total; });
  return ranked;
}

}  // namespace tuft::uncertainty
