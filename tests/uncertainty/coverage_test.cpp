// Learning from noisy readings of a hidden truth, two hundred times: how often intervals hold it and verdicts
// are right.
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/uncertainty/distribution.hpp"
#include "solver/uncertainty/probability.hpp"
#include "solver/uncertainty/sample_matrix.hpp"
#include "solver/uncertainty/sobol.hpp"
#include "solver/uncertainty/weights.hpp"

using namespace tuft::uncertainty;

namespace {

constexpr int kInputs = 4;
constexpr int kTruths = 200;

/// Two parallel leaks, a drive and a scale, none of them known well: what readings see of them.
struct Seen {
  double flow = 0.0;     ///< what the claim is about
  double first = 0.0;    ///< read as a number
  double second = 0.0;   ///< read within a fifth
  double balance = 0.0;  ///< seen to lean
};

Seen see(const double* u) {
  static const Distribution leak{Shape::log_uniform, 1.0, 0.3, 3.0},
      drive{Shape::normal, 5.0, 3.0, 7.0, 0.0, 1e9}, scale{Shape::triangular, 1.0, 0.8, 1.4};
  const double a = quantile(leak, u[0]), b = quantile(leak, u[1]);
  const double p = quantile(drive, u[2]), s = quantile(scale, u[3]);
  const double root = s * std::sqrt(p);
  return {(a + b) * root, a * root, p / (0.2 + b), std::log(a / b)};
}

const ErrorModel kFirst = GaussianError{0.3, 0.1};
const ErrorModel kSecond = GaussianError{0.01, 0.2};
const ErrorModel kLean = LeanError{0.5, 0.2, 0.02};

struct Study {
  std::vector<double> flow, first, second, balance;
};

Study sample(int count, std::uint64_t seed) {
  const SampleMatrix u = Replicates(kInputs, 16, seed).points(0, count);
  Study out;
  for (Eigen::Index i = 0; i < count; ++i) {
    const Seen each = see(u.row(i).data());
    out.flow.push_back(each.flow);
    out.first.push_back(each.first);
    out.second.push_back(each.second);
    out.balance.push_back(each.balance);
  }
  return out;
}

Weights learn(const Study& study, const Seen& truth, std::uint64_t key) {
  const auto reading = [&](const ErrorModel& model, double shown, std::uint64_t k) {
    return simulated_reading(model, shown, unit_uniform(key, 100 + k));
  };
  std::vector<double> sum = log_likelihood(kFirst, reading(kFirst, truth.first, 0), study.first);
  const auto second = log_likelihood(kSecond, reading(kSecond, truth.second, 1), study.second);
  const auto lean = log_likelihood(kLean, reading(kLean, truth.balance, 2), study.balance);
  for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += second[i] + lean[i];
  return normalise(sum);
}

}  // namespace

TEST_CASE("intervals hold two hundred hidden truths as often as they say, and verdicts are right") {
  const Study study = sample(8192, 1);
  int inside = 0, verdicts = 0, right = 0;
  double shrink = 0.0;
  const Interval before = central_interval(study.flow, 0.9);
  for (int t = 0; t < kTruths; ++t) {
    const std::uint64_t key = mix(2024, static_cast<std::uint64_t>(t));
    double u[kInputs];
    for (int j = 0; j < kInputs; ++j) u[j] = unit_uniform(key, static_cast<std::uint64_t>(j));
    const Seen truth = see(u);
    const Weights w = learn(study, truth, key);
    const Interval interval = central_interval(study.flow, 0.9, w.value);
    inside += interval.low <= truth.flow && truth.flow <= interval.high ? 1 : 0;
    shrink += (interval.high - interval.low) / (before.high - before.low) / kTruths;
    for (const double bound : {3.0, 4.0, 5.0, 7.0}) {
      std::vector<double> event;
      for (const double flow : study.flow) event.push_back(flow > bound ? 1.0 : 0.0);
      const Verdict said = verdict(probability(count_replicates(event, 16, w.value)));
      if (said == Verdict::undecided) continue;
      ++verdicts;
      right += (said == Verdict::holds) == (truth.flow > bound) ? 1 : 0;
    }
  }
  INFO("coverage " << inside / 200.0 << ", verdicts " << verdicts << " right " << right << ", width "
                   << shrink);
  CHECK(inside >= 170);  // 85 %
  CHECK(inside <= 190);  // 95 %
  CHECK(verdicts > 300);
  CHECK(right >= 0.95 * verdicts);
  CHECK(shrink < 0.6);  // the readings did teach something
}
