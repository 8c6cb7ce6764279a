#include "solver/uncertainty/weights.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "solver/uncertainty/sobol.hpp"
#include "tests/uncertainty/linear_gaussian.hpp"

using namespace tuft::uncertainty;
using namespace tuft::test;

namespace {
constexpr double kMinusInfinity = -std::numeric_limits<double>::infinity();
}

TEST_CASE("updating a linear model with normal doubt gives the closed form") {
  const LinearGaussian model;
  const SampleMatrix z = scores(Sobol(LinearGaussian::kInputs, 3).points(0, 1 << 16));
  const SampleMatrix l = model.log_likelihoods(z);
  const Weights w = normalise(combined(l));
  const LinearGaussian::Posterior known = model.posterior();
  for (int j = 0; j < LinearGaussian::kInputs; ++j) {
    const Moments m = moments(std::vector<double>(z.col(j).begin(), z.col(j).end()), w.value);
    INFO("input " << j);
    CHECK(m.mean == Approx(known.mean[j]).margin(0.01));
    CHECK(m.deviation == Approx(std::sqrt(known.covariance(j, j))).margin(0.01));
  }
  CHECK(w.effective > 1000.0);
  // A claim about the sum of inputs, against the normal distribution of the sum.
  double claim = 0.0;
  for (Eigen::Index i = 0; i < z.rows(); ++i)
    if (z.row(i).sum() > 1.0) claim += w.value[static_cast<std::size_t>(i)];
  CHECK(claim == Approx(model.probability_sum_above(1.0)).margin(0.01));
}

TEST_CASE("log weights far below what a double can hold") {
  const Weights w = normalise({-10000.0, -10000.0 + std::log(3.0), kMinusInfinity});
  CHECK(w.value[0] == Approx(0.25));
  CHECK(w.value[1] == Approx(0.75));
  CHECK(w.value[2] == 0.0);
  CHECK(w.effective == Approx(1.0 / (0.0625 + 0.5625)));
  CHECK(normalise(std::vector<double>(50, 7.0)).effective == Approx(50.0));
}

TEST_CASE("observations can be left out one at a time") {
  SampleMatrix l(2, 3);
  l << 1.0, 2.0, 4.0, 8.0, 16.0, kMinusInfinity;
  CHECK(combined(l) == std::vector<double>{7.0, kMinusInfinity});
  CHECK(combined(l, 2) == std::vector<double>{3.0, 24.0});
  CHECK(combined(l, 0)[0] == 6.0);
  CHECK_THROWS_WITH(combined(l, 3), "weights: there is no such observation to leave out");
}

TEST_CASE("systematic resampling gives every point its share, rounded") {
  const Weights w = normalise({std::log(0.5), std::log(0.3), kMinusInfinity, std::log(0.2)});
  for (const std::uint64_t seed : {0u, 1u, 2u, 3u, 4u, 5u}) {
    std::vector<int> times(4, 0);
    int last = 0;
    for (const int i : resample(w, 7, seed)) {
      CHECK(i >= last);
      last = i;
      ++times[static_cast<std::size_t>(i)];
    }
    const double share[4] = {3.5, 2.1, 0.0, 1.4};
    for (std::size_t i = 0; i < 4; ++i) {
      CHECK((times[i] == std::floor(share[i]) || times[i] == std::ceil(share[i])));
    }
    CHECK(times[0] + times[1] + times[3] == 7);
  }
  CHECK(systematic(w.value, 10, 0.5) == std::vector<int>{0, 0, 0, 0, 0, 1, 1, 1, 3, 3});
  CHECK_THROWS_WITH(resample(w, 0, 0), "resampling: at least one point is to be drawn");
  CHECK_THROWS_WITH(systematic(w.value, 1, 1.0), "resampling: start must be in [0, 1)");
}

TEST_CASE("resampling a Sobol' sequence does not fall into step with it") {
  // Mean of a fourth of the points, equally weighted: 1/2 within four standard errors of as many independent
  // ones. A comb over the sequence as it stands takes one quarter of the axis.
  const SampleMatrix u = Sobol(2, 3).points(0, 16384);
  const Weights even = normalise(std::vector<double>(16384, 0.0));
  const auto mean_of = [&](const std::vector<int>& drawn, int j) {
    double mean = 0.0;
    for (const int i : drawn) mean += u(i, j) / 4096.0;
    return mean;
  };
  for (int j = 0; j < 2; ++j) {
    CHECK(mean_of(resample(even, 4096, 1), j) == Approx(0.5).margin(4.0 / std::sqrt(12.0 * 4096.0)));
    CHECK(std::abs(mean_of(systematic(even.value, 4096, 0.5), j) - 0.5) > 0.1);
  }
}

TEST_CASE("tempering leaves as many points as asked for") {
  std::vector<double> l;
  for (int i = 0; i < 1000; ++i) l.push_back(-0.5 * i);
  CHECK(normalise(l).effective < 5.0);
  const double exponent = tempering(l, 100.0);
  for (double& each : l) each *= exponent;
  CHECK(normalise(l).effective == Approx(100.0).epsilon(1e-6));
  CHECK(tempering({0.0, 0.1}, 1.5) == 1.0);
  CHECK(tempering({0.0, kMinusInfinity}, 1.5) == 0.0);
  CHECK_THROWS_WITH(tempering({0.0}, 0.0), "effective number of points = 0: must be finite and > 0");
  CHECK_THROWS_WITH(tempering({0.0}, 1.0, {0.0, 0.0}), "weights: sizes differ");
}

TEST_CASE("the predictive check knows the tails of a linear model") {
  // Prior predictive of x + error with x standard normal and error 0.5: normal with variance 1.25 (derived).
  const SampleMatrix z = scores(Sobol(1, 3).points(0, 4096));
  const std::vector<double> shown(z.col(0).begin(), z.col(0).end());
  const Weights prior = normalise(std::vector<double>(4096, 0.0));
  const ErrorModel error = GaussianError{0.5, 0.0};
  const PredictiveTail tail = predictive_tail(prior, error, 3.0, shown);
  CHECK(tail.below == Approx(normal_cumulative(3.0 / std::sqrt(1.25))).epsilon(1e-4));
  CHECK(tail.two_sided == Approx(2.0 * normal_cumulative(-3.0 / std::sqrt(1.25))).epsilon(1e-2));
  CHECK(predictive_tail(prior, error, 0.0, shown).two_sided > 0.99);
  // Strict check: two readings that contradict each other. Without the other, each is a far tail.
  SampleMatrix l(4096, 2);
  const std::vector<double> low = log_likelihood(error, -2.5, shown),
                            high = log_likelihood(error, 2.5, shown);
  for (Eigen::Index i = 0; i < 4096; ++i) {
    l(i, 0) = low[static_cast<std::size_t>(i)];
    l(i, 1) = high[static_cast<std::size_t>(i)];
  }
  // Derived: given 2.5, x has mean 2 and variance 0.2; a reading of -2.5 lies 4.5/sqrt(0.45) away.
  const PredictiveTail strict = predictive_tail(normalise(combined(l, 0)), error, -2.5, shown);
  CHECK(strict.below == Approx(normal_cumulative(-4.5 / std::sqrt(0.45))).epsilon(0.1));
  CHECK(strict.two_sided < 1e-9);
  CHECK(predictive_tail(normalise(combined(l)), error, -2.5, shown).two_sided > 1e-9);  // mild
}

TEST_CASE("the predictive check of a listed outcome") {
  const Weights w = normalise({0.0, std::log(3.0)});
  // Chances of "out" 0.94/2 + 0.02 and 0.94 + 0.02 with a threshold far from 0: what is not out hangs still,
  // but for the toss-ups.
  const double seen = 0.25 * 0.49 + 0.75 * 0.96, in = 0.02;
  const PredictiveTail tail = predictive_tail(w, LeanError{40.0, 1.0, 0.06}, 0.0, {40.0, 80.0});
  CHECK(tail.below == Approx(in + 0.5 * (1.0 - seen - in)).epsilon(1e-12));
  CHECK(tail.two_sided == Approx(2.0 * tail.below).epsilon(1e-12));
}

TEST_CASE("weights that make no sense are refused") {
  CHECK_THROWS_WITH(normalise({}), "weights: at least one point is needed");
  CHECK_THROWS_WITH(normalise({0.0, std::nan("")}),
                    "weights: a log-likelihood must be a number below infinity");
  CHECK_THROWS_WITH(normalise({-kMinusInfinity}),
                    "weights: a log-likelihood must be a number below infinity");
  CHECK_THROWS_WITH(normalise({kMinusInfinity}),
                    "weights: no point of the sample can have given the observations");
  const Weights w = normalise({0.0});
  CHECK_THROWS_WITH(predictive_tail(w, GaussianError{}, 0.0, {1.0, 0.0}),
                    "weights: one shown value for each point is needed");
  CHECK_THROWS_WITH(predictive_tail(w, LeanError{}, 0.5, {1.0}), "reading = 0.5: must be one of -1 0 1");
}
