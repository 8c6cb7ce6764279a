#include "solver/uncertainty/probability.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

using namespace tuft::uncertainty;

namespace {

/// A probability known to lie within an interval.
Probability within(double value, double low, double high) { return {value, 0.0, {low, high}, 1000.0}; }

/// Event of probability `p` in independent trials.
std::vector<double> trials(double p, int count, std::uint64_t seed) {
  std::vector<double> event;
  for (int k = 0; k < count; ++k) {
    event.push_back(unit_uniform(seed, static_cast<std::uint64_t>(k)) < p ? 1.0 : 0.0);
  }
  return event;
}

}  // namespace

TEST_CASE("counts, standard error and interval by hand") {
  // Four replicates of two points with 2, 1, 1, 0 hits: 4/8; deviations 1 0 0 -1 points, variance of the
  // replicates' shares (1/4 + 1/4)/3, standard error the root of a quarter of it.
  const auto counts = count_replicates({1, 1, 1, 0, 1, 0, 0, 0}, 4);
  const Probability p = probability(counts, 0.95);
  CHECK(p.value == 0.5);
  CHECK(p.standard_error == Approx(std::sqrt(0.5 / 3.0 / 4.0)).epsilon(1e-14));
  CHECK(p.effective == 8.0);
  CHECK(p.interval.low == 0.0);  // 0.5 - 3.18 * 0.204 is below 0
  // Points with a share, and weights that leave out half of them.
  const auto shared = count_replicates({0.25, 0.75, 1.0, 1.0}, 2, {1.0, 1.0, 0.0, 0.0});
  CHECK(probability(shared).value == Approx(0.5));
  CHECK(probability(shared).effective == Approx(2.0));
}

TEST_CASE("replicates that agree on a common event leave the Student interval of their spread") {
  std::vector<ReplicateCount> counts;
  for (int r = 0; r < 16; ++r) counts.push_back({r % 2 == 0 ? 40.0 : 42.0, 100.0, 100.0});
  const Probability p = probability(counts, 0.99);
  CHECK(p.value == Approx(0.41));
  CHECK(p.standard_error == Approx(0.01 / std::sqrt(15.0)).epsilon(1e-12));
  CHECK(p.interval.high - p.value == Approx(2.947 * 0.01 / std::sqrt(15.0)).epsilon(1e-3));
}

TEST_CASE("an event never seen is not thereby impossible") {
  const Probability none = probability(count_replicates(std::vector<double>(1600, 0.0), 16), 0.99);
  CHECK(none.value == 0.0);
  CHECK(none.standard_error == 0.0);
  // Wilson's upper end without a hit is z^2/(n + z^2) (derived), z = 2.5758 at 99 % (as in every table).
  const double z2 = 2.5758 * 2.5758;
  CHECK(none.interval.high == Approx(z2 / (1600.0 + z2)).epsilon(1e-4));
  CHECK(none.interval.low == 0.0);
  const Probability all = probability(count_replicates(std::vector<double>(64, 1.0), 16), 0.99);
  CHECK(all.interval.low == Approx(64.0 / (64.0 + z2)).epsilon(1e-4));
  CHECK(all.interval.high == 1.0);
  CHECK_FALSE(settled(all));  // 64 points are too few for 95 %
  CHECK(settled(none));
}

TEST_CASE("intervals hold the truth as often as they say") {
  // 400 studies each of independent trials, 16 replicates of 64. At 90 % the share of hits is 0.9 with a
  // standard error of 0.015: within 3.5 of them below; above it may be too safe for rare events.
  for (const double truth : {0.5, 0.2, 0.95, 0.003}) {
    int right = 0;
    for (std::uint64_t s = 0; s < 400; ++s) {
      const Probability p = probability(count_replicates(trials(truth, 1024, mix(7, s)), 16), 0.9);
      right += p.interval.low <= truth && truth <= p.interval.high ? 1 : 0;
    }
    INFO("truth " << truth);
    CHECK(right / 400.0 > 0.9 - 3.5 * 0.015);
    if (truth > 0.1) CHECK(right / 400.0 < 0.9 + 3.5 * 0.015);
  }
}

TEST_CASE("the standard error of scrambled points is what repeated studies scatter by") {
  // An event of five inputs; 100 studies by 16 replicates of 64 points. The mean squared standard error must
  // equal the variance of the values: their ratio is 1 within 4 times its own error, sqrt(2/100) and
  // sqrt(2/15/100) together.
  double sum = 0.0, squares = 0.0, claimed = 0.0;
  const int studies = 100;
  for (int s = 0; s < studies; ++s) {
    const SampleMatrix u = Replicates(5, 16, static_cast<std::uint64_t>(1000 + s)).points(0, 1024);
    std::vector<double> event;
    for (Eigen::Index i = 0; i < u.rows(); ++i) event.push_back(u.row(i).sum() > 2.8 ? 1.0 : 0.0);
    const Probability p = probability(count_replicates(event, 16));
    sum += p.value / studies;
    squares += p.value * p.value / studies;
    claimed += p.standard_error * p.standard_error / studies;
  }
  const double scatter = (squares - sum * sum) * studies / (studies - 1.0);
  CHECK(claimed / scatter == Approx(1.0).margin(4.0 * std::sqrt(0.02 + 2.0 / 1500.0)));
  // Derived: the same from independent points would be p (1 - p)/1024; an even sample has less.
  CHECK(scatter < 0.7 * sum * (1.0 - sum) / 1024.0);
}

TEST_CASE("verdicts and when they are settled") {
  CHECK(verdict(within(0.95, 0.9, 1.0)) == Verdict::holds);
  CHECK(verdict(within(0.9499, 0.9, 1.0)) == Verdict::undecided);
  CHECK(verdict(within(0.05, 0.0, 0.1)) == Verdict::fails);
  CHECK(verdict(within(0.3, 0.2, 0.4), {0.8, 0.4}) == Verdict::fails);
  CHECK(settled(within(0.97, 0.951, 1.0)));
  CHECK_FALSE(settled(within(0.97, 0.949, 1.0)));
  CHECK(settled(within(0.5, 0.06, 0.94)));
  CHECK_FALSE(settled(within(0.5, 0.04, 0.94)));
  CHECK_FALSE(settled(within(0.5, 0.06, 0.96)));
  CHECK(settled(within(0.01, 0.0, 0.04)));
  CHECK_FALSE(settled(within(0.01, 0.0, 0.06)));
}

TEST_CASE("what can't be counted is refused") {
  CHECK_THROWS_WITH(count_replicates({1.0, 0.0}, 1), "probability: at least two replicates are needed");
  CHECK_THROWS_WITH(count_replicates({1.0}, 2),
                    "probability: at least one point for each replicate is needed");
  CHECK_THROWS_WITH(count_replicates({1.0, 2.0}, 2), "event = 2: must be within 0 and 1");
  CHECK_THROWS_WITH(count_replicates({1.0, 0.0}, 2, {1.0}),
                    "probability: as many weights as points are needed");
  CHECK_THROWS_WITH(count_replicates({1.0, 0.0}, 2, {0.0, 0.0}),
                    "probability: at least one weight must be above 0");
  CHECK_THROWS_WITH(probability({{1, 2, 2}}), "probability: at least two replicates are needed");
  CHECK_THROWS_WITH(probability({{1, 2, 2}, {1, 2, 2}}, 1.0), "level = 1: must be > 0 and < 1");
  CHECK_THROWS_WITH(probability({{}, {}}), "weight of all replicates = 0: must be finite and > 0");
  CHECK_THROWS_WITH(verdict({}, {0.05, 0.95}),
                    "verdict thresholds 0.95 and 0.05: must rise and lie within 0 and 1");
}
