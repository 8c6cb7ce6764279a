#include "solver/experiment/contradiction.hpp"

#include <algorithm>

#include "solver/experiment/surprise.hpp"
#include "solver/uncertainty/summary.hpp"
#include "solver/uncertainty/weights.hpp"

namespace tuft::belief {
namespace {

constexpr double kFewestPoints = 10.0;  // effective, from which a sample says what to expect (judgement)

class Comparison {
 public:
  Comparison(const std::vector<double>& base, const doubt::Rows& likelihood,
             const std::vector<doubt::ErrorModel>& errors, const std::vector<double>& readings,
             const std::vector<std::vector<double>>& shown)
      : base_(base), likelihood_(likelihood), errors_(errors), readings_(readings), shown_(shown) {}

  /// True where the reading can't be explained; `found` then says by how much. The doubt allowed is shared
  /// among so many comparisons.
  bool contradicts(std::size_t j, int against, double comparisons, Contradiction& found) const {
    std::vector<double> log_weight = base_;
    if (against >= 0)
      for (std::size_t i = 0; i < log_weight.size(); ++i)
        log_weight[i] += likelihood_(static_cast<Eigen::Index>(i), against);
    if (std::none_of(log_weight.begin(), log_weight.end(), [](double w) { return w > -1e300; })) return false;
    const doubt::Weights weights = doubt::normalise(log_weight);
    if (weights.effective < kFewestPoints) return false;
    found.observation = static_cast<int>(j);
    found.against = against;
    found.tail = doubt::predictive_tail(weights, errors_[j], readings_[j], shown_[j]).two_sided;
    const double lapse = doubt::lapse_probability(weights, errors_[j], readings_[j], shown_[j]);
    if (found.tail >= kSurprising / comparisons && lapse <= kLikelyLapse) return false;
    found.expected = doubt::quantiles(shown_[j], {0.5}, weights.value)[0];
    found.interval = doubt::central_interval(shown_[j], 0.9, weights.value);
    return true;
  }

 private:
  const std::vector<double>& base_;
  const doubt::Rows& likelihood_;
  const std::vector<doubt::ErrorModel>& errors_;
  const std::vector<double>& readings_;
  const std::vector<std::vector<double>>& shown_;
};

void by_strength(std::vector<Contradiction>& list) {
  std::stable_sort(list.begin(), list.end(),
                   [](const Contradiction& a, const Contradiction& b) { return a.tail < b.tail; });
}

}  // namespace

std::vector<Contradiction> contradictions(const std::vector<double>& base, const doubt::Rows& likelihood,
                                          const std::vector<doubt::ErrorModel>& errors,
                                          const std::vector<double>& readings,
                                          const std::vector<std::vector<double>>& shown) {
  const Comparison comparison(base, likelihood, errors, readings, shown);
  const std::size_t count = readings.size();
  std::vector<Contradiction> alone, pairs;
  std::vector<std::size_t> expected;
  for (std::size_t j = 0; j < count; ++j) {
    Contradiction found;
    if (comparison.contradicts(j, -1, static_cast<double>(count), found))
      alone.push_back(found);
    else
      expected.push_back(j);
  }
  const double possible = std::max<double>(1.0, 0.5 * static_cast<double>(count * (count - 1)));
  for (std::size_t a = 0; a < expected.size(); ++a) {
    for (std::size_t b = a + 1; b < expected.size(); ++b) {
      Contradiction one, other;
      const bool first = comparison.contradicts(expected[b], static_cast<int>(expected[a]), possible, one);
      const bool second = comparison.contradicts(expected[a], static_cast<int>(expected[b]), possible, other);
      if (first || second) pairs.push_back(!second || (first && one.tail <= other.tail) ? one : other);
    }
  }
  by_strength(alone);
  by_strength(pairs);
  alone.insert(alone.end(), pairs.begin(), pairs.end());
  return alone;
}

}  // namespace tuft::belief
