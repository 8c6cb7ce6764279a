#include "solver/uncertainty/information_gain.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/sobol.hpp"
#include "tests/uncertainty/linear_gaussian.hpp"

using namespace tuft::uncertainty;
using namespace tuft::test;

namespace {

std::vector<double> above(const std::vector<double>& value, double bound) {
  std::vector<double> out;
  for (const double each : value) out.push_back(each > bound ? 1.0 : 0.0);
  return out;
}

/// Expected uncertainty about "x > c" after a reading x + error, x standard normal: the posterior is normal
/// with mean y/(1 + s^2) and variance s^2/(1 + s^2), and y has variance 1 + s^2 (derived); integrated over y.
double expected_entropy(double c, double error) {
  const double s2 = error * error, n = 20000;
  double sum = 0.0;
  for (int i = 0; i < 20000; ++i) {
    const double y = std::sqrt(1.0 + s2) * normal_quantile((i + 0.5) / n);
    const double p = normal_cumulative((y / (1.0 + s2) - c) / std::sqrt(s2 / (1.0 + s2)));
    sum += entropy_of(p) / n;
  }
  return sum;
}

}  // namespace

TEST_CASE("worth of a measurement of a normal variable against the integral") {
  const SampleMatrix z = scores(Sobol(2, 3).points(0, 4096));
  const Weights w = normalise(std::vector<double>(4096, 0.0));
  const std::vector<std::vector<double>> claims = {above(column(z, 0), 0.5)};
  const double p = normal_cumulative(-0.5);
  for (const double error : {0.2, 1.0, 4.0}) {
    const InformationGain gains =
        rank_information_gain({{GaussianError{error, 0.0}, column(z, 0)}}, claims, w)[0];
    INFO("error " << error);
    CHECK(gains.gain[0] == Approx(entropy_of(p) - expected_entropy(0.5, error)).margin(0.01));
    CHECK(gains.error[0] < 0.03);
  }
}

TEST_CASE("worth of an outcome that can be listed is exact but for what chance feigns") {
  // 400 points of one kind and 600 of another, one claim true for the first; a strip that leans out with 0.9
  // and 0.2 and never in (lapse 0, the threshold far from 0).
  const double first = 40.0 + normal_quantile(0.9), second = 40.0 + normal_quantile(0.2);
  std::vector<double> shown(400, first), claim(400, 1.0);
  shown.resize(1000, second);
  claim.resize(1000, 0.0);
  const Weights w = normalise(std::vector<double>(1000, 0.0));
  const InformationGain gains = rank_information_gain({{LeanError{40.0, 1.0, 0.0}, shown}}, {claim}, w)[0];
  const double seen = 0.4 * 0.9 + 0.6 * 0.2;
  const auto h = [](double p) { return entropy_of(p); };
  const double left = seen * h(0.36 / seen) + (1.0 - seen) * h(0.04 / (1.0 - seen));
  // What chance feigns of so many points: 1/(2 n ln 2) with n of some 500 for either outcome.
  CHECK(gains.gain[0] == Approx(h(0.4) - left).margin(2.0 / (2.0 * 450.0 * std::log(2.0))));
  CHECK(gains.error[0] == 0.0);
  CHECK(gains.stands_out());
}

TEST_CASE("measurements are ranked, and one that has nothing to do with the claim is worth nothing") {
  const SampleMatrix z = scores(Sobol(3, 3).points(0, 8192));
  const Weights w = normalise(std::vector<double>(8192, 0.0));
  const std::vector<Candidate> candidates = {{GaussianError{1.0, 0.0}, column(z, 1)},
                                             {GaussianError{1.0, 0.0}, column(z, 0)},
                                             {LeanError{0.5, 0.2, 0.02}, column(z, 0)},
                                             {GaussianError{0.1, 0.0}, column(z, 0)}};
  const std::vector<std::vector<double>> claims = {above(column(z, 0), 0.0), above(column(z, 2), 2.0)};
  const auto ranked = rank_information_gain(candidates, claims, w);
  CHECK(ranked[0].candidate == 3);
  CHECK(ranked[1].candidate == 2);
  CHECK(ranked[2].candidate == 1);
  CHECK(ranked[3].candidate == 0);
  CHECK(std::abs(ranked[3].gain[0]) < 0.005);
  CHECK(ranked[0].total == Approx(ranked[0].gain[0] + ranked[0].gain[1]));
}

TEST_CASE("a small sample does not make every measurement look decisive") {
  // 64 points and a precise reading of something unrelated: judged with the point that gave it, its own claim
  // would come out sure (a drop near 1 bit).
  const SampleMatrix z = scores(Sobol(2, 3).points(0, 64));
  const Weights w = normalise(std::vector<double>(64, 0.0));
  const InformationGain gains =
      rank_information_gain({{GaussianError{1e-4, 0.0}, column(z, 1)}}, {above(column(z, 0), 0.0)}, w)[0];
  CHECK(gains.gain[0] <= 1.0);
  // With 1000 points and a reading that leaves a tenth of them.
  const SampleMatrix more = scores(Sobol(2, 3).points(0, 1024));
  const Weights even = normalise(std::vector<double>(1024, 0.0));
  const InformationGain broad = rank_information_gain({{GaussianError{0.1, 0.0}, column(more, 1)}},
                                                      {above(column(more, 0), 0.0)}, even)[0];
  CHECK(std::abs(broad.gain[0]) < 0.02);
}

TEST_CASE("thinning a large weighted sample changes little") {
  const SampleMatrix z = scores(Sobol(2, 3).points(0, 16384));
  std::vector<double> l;
  for (Eigen::Index i = 0; i < z.rows(); ++i) l.push_back(-0.5 * (z(i, 0) - 1.0) * (z(i, 0) - 1.0));
  const Weights w = normalise(l);
  InformationGainRule whole;
  whole.most_points = 16384;
  const std::vector<Candidate> candidates = {{GaussianError{0.5, 0.0}, column(z, 0)},
                                             {LeanError{0.5, 0.2, 0.02}, column(z, 0)}};
  const std::vector<std::vector<double>> claims = {above(column(z, 0), 0.5)};
  const auto thin = rank_information_gain(candidates, claims, w);
  const auto full = rank_information_gain(candidates, claims, w, whole);
  for (std::size_t k = 0; k < 2; ++k) {
    CHECK(thin[k].candidate == full[k].candidate);
    CHECK(thin[k].gain[0] == Approx(full[k].gain[0]).margin(0.015));
  }
}

// A precise level and a coarse one, an anemometer and a strip, on a table whose tilt no claim depends on: the
// gain is 0, and over many samples at most one in ten stands out of the noise. Before what chance feigns was
// taken off, it was 0.02 bit and more.
TEST_CASE("a measurement that tells nothing does not stand out of the noise of the sample") {
  for (const bool independent : {true, false}) {  // the points of a sequence scatter less
    int standing = 0, all = 0;
    double mean = 0.0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
      SampleMatrix u = Sobol(3, seed).points(0, 1024);
      for (Eigen::Index i = 0; independent && i < u.size(); ++i)
        u.data()[i] = unit_uniform(seed, static_cast<std::uint64_t>(i));
      const SampleMatrix z = scores(u);
      const Weights w = normalise(std::vector<double>(1024, 0.0));
      std::vector<std::vector<double>> claims;
      for (const double bound : {0.0, 0.5, 1.0, 1.7}) claims.push_back(above(column(z, 0), bound));
      claims.push_back(above(column(z, 2), 0.3));
      InformationGainRule rule;
      rule.readings = 64;
      for (const InformationGain& gains : rank_information_gain({{GaussianError{0.1, 0.0}, column(z, 1)},
                                                                 {GaussianError{0.5, 0.0}, column(z, 1)},
                                                                 {LeanError{0.5, 0.2, 0.02}, column(z, 1)}},
                                                                claims, w, rule)) {
        standing += gains.stands_out() ? 1 : 0;
        mean += gains.total / 120.0;
        ++all;
      }
    }
    INFO((independent ? "independent points" : "a sequence") << ": mean " << mean << ", " << standing);
    CHECK(all == 120);
    CHECK(standing <= 12);
    CHECK(mean < 0.01);
    if (independent) CHECK(mean > -0.01);
  }
}

TEST_CASE("a measurement that tells a little stands out") {
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    const SampleMatrix z = scores(Sobol(2, seed).points(0, 1024));
    const Weights w = normalise(std::vector<double>(1024, 0.0));
    std::vector<double> near;
    for (Eigen::Index i = 0; i < z.rows(); ++i) near.push_back(z(i, 0) + z(i, 1) > 0.0 ? 1.0 : 0.0);
    const auto found = rank_information_gain({{GaussianError{1.0, 0.0}, column(z, 0)}}, {near}, w);
    CHECK(found[0].stands_out());
  }
}

TEST_CASE("studies of worth that make no sense are refused") {
  const Weights w = normalise({0.0, 0.0});
  CHECK_THROWS_WITH(rank_information_gain({{GaussianError{}, {1.0}}}, {}, w),
                    "worth: one shown value for each point is needed");
  CHECK_THROWS_WITH(rank_information_gain({{GaussianError{}, {1.0, std::nan("")}}}, {}, w),
                    "worth: every shown value must be finite");
  CHECK_THROWS_WITH(rank_information_gain({}, {{1.0}}, w),
                    "worth: one event of each claim for each point is needed");
  CHECK_THROWS_WITH(rank_information_gain({}, {{1.0, 2.0}}, w), "worth: every event must be within 0 and 1");
  InformationGainRule rule;
  rule.readings = 1;
  CHECK_THROWS_WITH(rank_information_gain({}, {}, w, rule),
                    "worth: at least two readings and two points are needed");
  CHECK_THROWS_WITH(entropy_of(1.5), "probability = 1.5: must be within 0 and 1");
}
