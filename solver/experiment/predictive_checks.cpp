// Readings against what the case, and other readings, let one expect.
#include <algorithm>
#include <cmath>

#include "solver/experiment/learn.hpp"
#include "solver/uncertainty/weights.hpp"

namespace tuft::experiment {
namespace {

constexpr double kWeakest = 0.2;          // correlation below which an input explains nothing (judgement)
constexpr double kFarthest = 3.0;         // standard deviations an input can reasonably be off (judgement)
constexpr std::size_t kMostSuspects = 3;  // suspects named

double correlation(const std::vector<double>& weight, const uncertainty::SampleMatrix& scores,
                   Eigen::Index input, const std::vector<double>& shown,
                   const uncertainty::Moments& of_shown) {
  std::vector<double> z(shown.size());
  for (std::size_t i = 0; i < z.size(); ++i) z[i] = scores(static_cast<Eigen::Index>(i), input);
  const uncertainty::Moments of_z = uncertainty::moments(z, weight);
  if (of_z.deviation <= 0.0 || of_shown.deviation <= 0.0) return 0.0;
  double sum = 0.0, total = 0.0;
  for (std::size_t i = 0; i < z.size(); ++i) {
    sum += weight[i] * (z[i] - of_z.mean) * (shown[i] - of_shown.mean);
    total += weight[i];
  }
  return sum / total / (of_z.deviation * of_shown.deviation);
}

// A value the instrument might be shown that fits the reading: of a number the reading itself, of a lean the
// threshold on its side.
double fitting(const uncertainty::ErrorModel& error, double reading) {
  if (const auto* lean = std::get_if<uncertainty::LeanError>(&error)) return reading * lean->threshold;
  return reading;
}

void name_suspects(const std::vector<double>& weight, const uncertainty::SampleMatrix& scores,
                   const std::vector<double>& shown, double wanted, PredictiveCheck& out) {
  const uncertainty::Moments of_shown = uncertainty::moments(shown, weight);
  const double gap = wanted - of_shown.mean;
  double strongest = 0.0;
  for (Eigen::Index input = 0; input < scores.cols(); ++input) {
    const double r = correlation(weight, scores, input, shown, of_shown);
    strongest = std::max(strongest, std::abs(r));
    if (std::abs(r) >= kWeakest) out.suspects.push_back({static_cast<int>(input), r, r * gap > 0.0});
  }
  std::stable_sort(out.suspects.begin(), out.suspects.end(), [](const Suspect& a, const Suspect& b) {
    return std::abs(a.correlation) > std::abs(b.correlation);
  });
  if (out.suspects.size() > kMostSuspects) out.suspects.resize(kMostSuspects);
  out.out_of_reach = std::abs(gap) > kFarthest * strongest * of_shown.deviation;
}

constexpr double kFewestPoints = 10.0;  // effective, from which a sample says what to expect (judgement)

// True where the reading can't be explained; `found` then says by how much. The uncertainty allowed is shared
// among so many comparisons.
bool contradicts(const ReadSample& sample, std::size_t j, int against, double comparisons,
                 Contradiction& found) {
  std::vector<double> log_weight = sample.base;
  if (against >= 0)
    for (std::size_t i = 0; i < log_weight.size(); ++i)
      log_weight[i] += sample.likelihood(static_cast<Eigen::Index>(i), against);
  if (std::none_of(log_weight.begin(), log_weight.end(), [](double w) { return w > -1e300; })) return false;
  const uncertainty::Weights weights = uncertainty::normalise(log_weight);
  if (weights.effective < kFewestPoints) return false;
  const std::vector<double>& shown = sample.shown[j];
  found.observation = static_cast<int>(j);
  found.against = against;
  found.tail = uncertainty::predictive_tail(weights, sample.errors[j], sample.readings[j], shown).two_sided;
  const double lapse = uncertainty::lapse_probability(weights, sample.errors[j], sample.readings[j], shown);
  if (found.tail >= kSurprising / comparisons && lapse <= kLikelyLapseProbability) return false;
  found.expected = uncertainty::quantiles(shown, {0.5}, weights.value)[0];
  found.interval = uncertainty::central_interval(shown, 0.9, weights.value);
  return true;
}

void by_strength(std::vector<Contradiction>& list) {
  std::stable_sort(list.begin(), list.end(),
                   [](const Contradiction& a, const Contradiction& b) { return a.tail < b.tail; });
}

}  // namespace

std::vector<PredictiveCheck> predictive_checks(const ReadSample& sample,
                                               const uncertainty::SampleMatrix& scores) {
  std::vector<PredictiveCheck> out;
  const double limit = kSurprising / static_cast<double>(std::max<std::size_t>(1, sample.readings.size()));
  for (std::size_t j = 0; j < sample.readings.size(); ++j) {
    const std::vector<double>& shown = sample.shown[j];
    const uncertainty::ErrorModel& error = sample.errors[j];
    const double reading = sample.readings[j];
    std::vector<double> log_weight = uncertainty::combined(sample.likelihood, static_cast<int>(j));
    for (std::size_t i = 0; i < log_weight.size(); ++i) log_weight[i] += sample.base[i];
    const uncertainty::Weights others = uncertainty::normalise(log_weight);
    PredictiveCheck check;
    check.effective = others.effective;
    check.tail = uncertainty::predictive_tail(others, error, reading, shown);
    check.expected = uncertainty::quantiles(shown, {0.5}, others.value)[0];
    check.interval = uncertainty::central_interval(shown, 0.9, others.value);
    check.lapse = uncertainty::lapse_probability(others, error, reading, shown);
    // The toss-ups alone keep the tail of a strip above a limit shared among many: where such a reading is
    // more likely one of them than not, the case does not explain it either.
    check.conflicts_with_model = check.tail.two_sided < limit || check.lapse > kLikelyLapseProbability;
    if (check.conflicts_with_model)
      name_suspects(others.value, scores, shown, fitting(error, reading), check);
    out.push_back(std::move(check));
  }
  return out;
}

std::vector<Contradiction> contradictions(const ReadSample& sample) {
  const std::size_t count = sample.readings.size();
  std::vector<Contradiction> alone, pairs;
  std::vector<std::size_t> expected;
  for (std::size_t j = 0; j < count; ++j) {
    Contradiction found;
    if (contradicts(sample, j, -1, static_cast<double>(count), found))
      alone.push_back(found);
    else
      expected.push_back(j);
  }
  const double possible = std::max<double>(1.0, 0.5 * static_cast<double>(count * (count - 1)));
  for (std::size_t a = 0; a < expected.size(); ++a) {
    for (std::size_t b = a + 1; b < expected.size(); ++b) {
      Contradiction one, other;
      const bool first = contradicts(sample, expected[b], static_cast<int>(expected[a]), possible, one);
      const bool second = contradicts(sample, expected[a], static_cast<int>(expected[b]), possible, other);
      if (first || second) pairs.push_back(!second || (first && one.tail <= other.tail) ? one : other);
    }
  }
  by_strength(alone);
  by_strength(pairs);
  alone.insert(alone.end(), pairs.begin(), pairs.end());
  return alone;
}

}  // namespace tuft::experiment
