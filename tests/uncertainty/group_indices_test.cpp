#include "solver/uncertainty/group_indices.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <vector>

#include "solver/uncertainty/sobol.hpp"

using namespace tuft::uncertainty;

namespace {

template <class Function>
std::vector<double> output_rows(const SampleMatrix& u, const Function& f) {
  std::vector<double> y;
  for (Eigen::Index i = 0; i < u.rows(); ++i) y.push_back(f(u.row(i)));
  return y;
}

SampleMatrix chance_points(Eigen::Index points, Eigen::Index inputs, std::uint64_t key) {
  SampleMatrix u(points, inputs);
  for (Eigen::Index i = 0; i < u.size(); ++i) u.data()[i] = unit_uniform(key, static_cast<std::uint64_t>(i));
  return u;
}

}  // namespace

// Variances on (0, 1): of u 1/12, of u^2 4/45, of u v 7/144, of which 1/48 comes from each alone. Derived.
TEST_CASE("shares of groups are those of the variance, and what is only together is in none") {
  const auto f = [](const auto& u) { return 3.0 * u[0] + 2.0 * u[1] * u[1] + 4.0 * u[2] * u[3] + 100.0; };
  const double a = 9.0 / 12.0, b = 4.0 * 4.0 / 45.0, c = 16.0 / 48.0, all = a + b + 16.0 * 7.0 / 144.0;
  for (const std::uint64_t seed : {1u, 2u, 3u}) {
    const SampleMatrix u = Sobol(6, seed).points(0, 1024);
    const auto found = group_indices(u, {0, 1, 1, 2, 2, 0}, 4, {output_rows(u, f)});
    REQUIRE(found.size() == 1);
    const double expected[] = {a / all, (b + c) / all, c / all, 0.0};
    double sum = 0.0;
    for (std::size_t g = 0; g < 4; ++g) {
      INFO("group " << g);
      CHECK(found[0][g].first == Approx(expected[g]).margin(0.01));
      CHECK(std::abs(found[0][g].first - expected[g]) <= 4.0 * found[0][g].error + 1e-9);
      sum += found[0][g].first;
    }
    CHECK(found[0][3].first == 0.0);  // a group without an input
    CHECK(1.0 - sum == Approx(16.0 / 144.0 / all).margin(0.01));
  }
}

TEST_CASE("a sum of straight lines is told to the last digits, from five points an input on") {
  const auto f = [](const auto& u) { return 3.0 * u[0] - 4.0 * u[1]; };
  const SampleMatrix u = chance_points(40, 2, 7);
  const auto found = group_indices(u, {0, 1}, 2, {output_rows(u, f)});
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
    const auto noise = output_rows(u, [](const auto& row) { return row[20]; });
    const SampleMatrix idle = u.leftCols(20);
    const double share = group_indices(idle, std::vector<int>(20, 0), 1, {noise})[0][0].first;
    mean += share / kRuns;
    square += share * share / kRuns;
  }
  CHECK(std::abs(mean) < 4.0 * std::sqrt((square - mean * mean) / kRuns) + 1e-3);
  CHECK(std::abs(mean) < 0.01);
}

TEST_CASE("an output that does not vary has no shares, and too few points tell nothing") {
  const SampleMatrix u = Sobol(3, 1).points(0, 64);
  const auto found = group_indices(u, {0, 1, 2}, 3, {std::vector<double>(64, 5.0)});
  REQUIRE(found.size() == 1);
  for (const GivenDataIndex& share : found[0]) CHECK(share.first == 0.0);
  const SampleMatrix wide = Sobol(14, 1).points(0, 64);
  CHECK(group_indices(wide, std::vector<int>(14, 0), 1, {std::vector<double>(64, 0.0)}).empty());
  CHECK(group_indices(SampleMatrix(64, 0), {}, 3, {std::vector<double>(64, 0.0)}).empty());
}

TEST_CASE("shares refuse what does not fit together") {
  const SampleMatrix u = Sobol(2, 1).points(0, 64);
  const std::vector<double> y(64, 1.0);
  CHECK_THROWS_AS(group_indices(u, {0}, 1, {y}), std::invalid_argument);
  CHECK_THROWS_AS(group_indices(u, {0, 1}, 1, {y}), std::invalid_argument);
  CHECK_THROWS_AS(group_indices(u, {0, 0}, 1, {std::vector<double>(63, 1.0)}), std::invalid_argument);
  CHECK_THROWS_AS(group_indices(u, {0, 0}, 1, {std::vector<double>(64, std::nan(""))}),
                  std::invalid_argument);
}
