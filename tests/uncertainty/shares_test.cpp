// Shares of a variance from a sample, against closed forms.
#include "solver/uncertainty/shares.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <vector>

#include "solver/uncertainty/sobol.hpp"
#include "tests/uncertainty/functions.hpp"

using namespace tuft::uncertainty;
using namespace tuft::test;

namespace {

template <class Function>
std::vector<double> output_rows(const SampleMatrix& u, const Function& f) {
  std::vector<double> y;
  for (Eigen::Index i = 0; i < u.rows(); ++i) y.push_back(f(u.row(i).data()));
  return y;
}

SampleMatrix chance_points(Eigen::Index points, Eigen::Index inputs, std::uint64_t key) {
  SampleMatrix u(points, inputs);
  for (Eigen::Index i = 0; i < u.size(); ++i) u.data()[i] = unit_uniform(key, static_cast<std::uint64_t>(i));
  return u;
}

std::vector<bool> straight(Eigen::Index inputs) {
  return std::vector<bool>(static_cast<std::size_t>(inputs));
}

/// Every input by itself, then these sets.
std::vector<std::vector<int>> singles_and(int inputs, std::vector<std::vector<int>> more) {
  std::vector<std::vector<int>> out;
  for (int i = 0; i < inputs; ++i) out.push_back({i});
  out.insert(out.end(), more.begin(), more.end());
  return out;
}

void check_known(const std::vector<Share>& found, const KnownIndices& known, double margin) {
  for (std::size_t i = 0; i < known.first.size(); ++i) {
    INFO("input " << i << ": " << found[i].first << " +- " << found[i].error << ", true " << known.first[i]);
    CHECK(found[i].first == Approx(known.first[i]).margin(margin));
    CHECK(std::abs(found[i].first - known.first[i]) < 4.0 * found[i].error + 0.01);
  }
}

}  // namespace

// functions.hpp names the sources of the functions; their indices are derived there.
TEST_CASE("shares of the known functions from a plain sample") {
  for (const std::uint64_t seed : {1u, 4u, 9u}) {
    const SampleMatrix u3 = Sobol(3, seed).points(0, 4096), u8 = Sobol(8, seed).points(0, 4096);
    check_known(variance_shares(u3, straight(3), singles_and(3, {}), {output_rows(u3, ishigami)})[0],
                ishigami_indices(), 0.03);
    check_known(variance_shares(u8, straight(8), singles_and(8, {}), {output_rows(u8, g_function)})[0],
                g_indices(), 0.03);
  }
}

// Variances on (0, 1): of u 1/12, of u^2 4/45, of u v 7/144, of which 1/48 comes from each alone. Derived.
TEST_CASE("shares of sets are those of the variance, and what is only together is in none") {
  const auto f = [](const double* u) { return 3.0 * u[0] + 2.0 * u[1] * u[1] + 4.0 * u[2] * u[3] + 100.0; };
  const double a = 9.0 / 12.0, b = 4.0 * 4.0 / 45.0, c = 16.0 / 48.0, all = a + b + 16.0 * 7.0 / 144.0;
  for (const std::uint64_t seed : {1u, 2u, 3u}) {
    const SampleMatrix u = Sobol(6, seed).points(0, 1024);
    const auto found = variance_shares(u, straight(6), {{0, 5}, {1, 2}, {3, 4}, {}}, {output_rows(u, f)});
    REQUIRE(found.size() == 1);
    const double expected[] = {a / all, (b + c) / all, c / all, 0.0};
    double sum = 0.0;
    for (std::size_t g = 0; g < 4; ++g) {
      INFO("set " << g);
      CHECK(found[0][g].first == Approx(expected[g]).margin(0.015));
      CHECK(std::abs(found[0][g].first - expected[g]) <= 4.0 * found[0][g].error + 1e-9);
      sum += found[0][g].first;
    }
    CHECK(found[0][3].first == 0.0);
    CHECK(1.0 - sum == Approx(16.0 / 144.0 / all).margin(0.015));
  }
}

// A wave of any phase has variance 1/2, two rounds likewise; a step between the ends of an input that closes
// upon itself is no step. u^2's 4/45 as above.
TEST_CASE("an input that closes upon itself is told by waves, whatever their phase") {
  for (const double phase : {0.0, 0.7, 2.0}) {
    const auto f = [phase](const double* u) {
      return std::cos(2.0 * kPi * u[0] + phase) + 0.5 * std::sin(4.0 * kPi * u[0] - phase) + u[1] * u[1];
    };
    const double first = 0.5 + 0.125, second = 4.0 / 45.0, all = first + second;
    const SampleMatrix u = Sobol(2, 5).points(0, 256);
    const auto found = variance_shares(u, {true, false}, singles_and(2, {}), {output_rows(u, f)})[0];
    CHECK(found[0].first == Approx(first / all).margin(0.02));
    CHECK(found[1].first == Approx(second / all).margin(0.02));
  }
}

// One input that is a speed and one that is a direction, both of the room, as they come in a draught: what
// they do only together is theirs in no share, and the set has never less than its members.
TEST_CASE("the share of a set is the sum of its members' for every output, whatever the noise") {
  for (const std::uint64_t seed : {1u, 2u, 3u, 4u}) {
    for (const int points : {128, 512, 2048}) {
      const SampleMatrix u = Sobol(12, seed).points(0, points);
      const auto draught = output_rows(u, [](const double* x) {
        const double speed = 0.2 * x[0];
        return speed * speed * (0.6 - std::cos(2.0 * kPi * x[1])) + 0.004 * x[2] * x[3] + 0.002 * x[4];
      });
      const auto kink =
          output_rows(u, [](const double* x) { return std::min(x[0] - 0.5, x[1] * x[2] - 0.2); });
      const auto all = variance_shares(
          u, {false, true, false, false, false, false, false, false, false, false, false, false},
          singles_and(12, {{0, 1}, {2, 3, 4, 5, 6, 7, 8, 9, 10, 11}}), {draught, kink});
      for (const auto& found : all) {
        const auto sum = [&](std::size_t from, std::size_t to) {
          double out = 0.0;
          for (std::size_t i = from; i < to; ++i) out += found[i].first;
          return out;
        };
        CHECK(found[12].first == Approx(sum(0, 2)).margin(1e-12));
        CHECK(found[13].first == Approx(sum(2, 12)).margin(1e-12));
      }
    }
  }
}

// 40 inputs of about a hundredth each: hardly one stands out, and the set tells of all of them. Beside them a
// product that is in no share (derived: equal straight lines of variance 1/12; of the product 900/144).
TEST_CASE("many small shares add up, though hardly one of them stands out") {
  constexpr double small_share = 40.0 / 12.0 / (40.0 / 12.0 + 900.0 / 144.0);
  double mean = 0.0;
  for (const std::uint64_t seed : {1u, 2u, 3u, 4u, 5u, 6u}) {
    const SampleMatrix u = chance_points(1024, 42, seed);
    const auto y = output_rows(u, [](const double* x) {
      double sum = 0.0;
      for (int i = 0; i < 40; ++i) sum += x[i];
      return sum + 30.0 * (x[40] - 0.5) * (x[41] - 0.5);
    });
    std::vector<int> small(40);
    std::iota(small.begin(), small.end(), 0);
    const Share found = variance_shares(u, straight(42), {small}, {y})[0][0];
    CHECK(std::abs(found.first - small_share) < 4.0 * found.error);
    mean += found.first / 6.0;
  }
  CHECK(mean == Approx(small_share).margin(0.03));
}

TEST_CASE("a sum of straight lines is told to the last digits") {
  const auto f = [](const double* u) { return 3.0 * u[0] - 4.0 * u[1]; };
  const SampleMatrix u = chance_points(40, 2, 7);
  const auto found = variance_shares(u, straight(2), {{0}, {1}}, {output_rows(u, f)});
  REQUIRE(found.size() == 1);
  // The parts are those of the uniform law, the whole that of the sample.
  CHECK(found[0][1].first / found[0][0].first == Approx(16.0 / 9.0).epsilon(1e-9));
}

TEST_CASE("noise feigns no share") {
  double mean = 0.0, square = 0.0;
  constexpr int kRuns = 60;
  for (int run = 0; run < kRuns; ++run) {
    const SampleMatrix u = chance_points(512, 21, static_cast<std::uint64_t>(run) + 1);
    // 20 idle inputs beside one that is not of the output's making: without the correction their share would
    // be of the order of 60 terms / 512 points.
    const auto noise = output_rows(u, [](const double* row) { return row[20]; });
    const SampleMatrix idle = u.leftCols(20);
    std::vector<int> all(20);
    std::iota(all.begin(), all.end(), 0);
    const double share = variance_shares(idle, straight(20), {all}, {noise})[0][0].first;
    mean += share / kRuns;
    square += share * share / kRuns;
  }
  CHECK(std::abs(mean) < 4.0 * std::sqrt((square - mean * mean) / kRuns) + 1e-3);
  CHECK(std::abs(mean) < 0.01);
}

TEST_CASE("the standard error of a share is what repeated independent samples scatter by") {
  double sum = 0.0, squares = 0.0, claimed = 0.0;
  const int studies = 200;
  for (std::uint64_t s = 0; s < studies; ++s) {
    const SampleMatrix u = chance_points(512, 3, s + 1);
    const Share found = variance_shares(u, straight(3), {{0}}, {output_rows(u, ishigami)})[0][0];
    sum += found.first / studies;
    squares += found.first * found.first / studies;
    claimed += found.error * found.error / studies;
  }
  // Mean squared claim over variance: 1 within four of its own standard errors, and the jackknife's own
  // upward bias, for which an eighth is allowed.
  const double ratio = claimed / (squares - sum * sum);
  CHECK(ratio > 1.0 - 4.0 * std::sqrt(2.0 / studies));
  CHECK(ratio < 1.125 + 4.0 * std::sqrt(2.0 / studies));
}

TEST_CASE("an output that does not vary has no shares, and too few points tell nothing") {
  const SampleMatrix u = Sobol(3, 1).points(0, 64);
  const auto found = variance_shares(u, straight(3), singles_and(3, {}), {std::vector<double>(64, 0.1)});
  REQUIRE(found.size() == 1);
  for (const Share& share : found[0]) CHECK(share.first == 0.0);
  const SampleMatrix wide = Sobol(14, 1).points(0, 64);
  CHECK(variance_shares(wide, straight(14), {{0}}, {std::vector<double>(64, 0.0)}).empty());
  CHECK(variance_shares(SampleMatrix(64, 0), {}, {{}}, {std::vector<double>(64, 0.0)}).empty());
}

TEST_CASE("shares refuse what does not fit together") {
  const SampleMatrix u = Sobol(2, 1).points(0, 64);
  const std::vector<double> y(64, 1.0);
  CHECK_THROWS_AS(variance_shares(u, straight(1), {{0}}, {y}), std::invalid_argument);
  CHECK_THROWS_AS(variance_shares(u, straight(2), {{2}}, {y}), std::invalid_argument);
  CHECK_THROWS_AS(variance_shares(u, straight(2), {{0}}, {std::vector<double>(63, 1.0)}),
                  std::invalid_argument);
  CHECK_THROWS_AS(variance_shares(u, straight(2), {{0}}, {std::vector<double>(64, std::nan(""))}),
                  std::invalid_argument);
}
