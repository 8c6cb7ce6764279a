#include "solver/uncertainty/indices.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/sample_matrix.hpp"
#include "solver/uncertainty/sobol.hpp"
#include "tests/uncertainty/functions.hpp"

using namespace tuft::uncertainty;
using namespace tuft::test;

namespace {

template <class Function>
std::vector<double> outputs(const SampleMatrix& u, const Function& f) {
  std::vector<double> y;
  for (Eigen::Index i = 0; i < u.rows(); ++i) y.push_back(f(u.row(i).data()));
  return y;
}

}  // namespace

TEST_CASE("first-order indices from a plain sample of the known functions") {
  const SampleMatrix u3 = Sobol(3, 4).points(0, 8192);
  const auto found = given_data_indices(u3, outputs(u3, ishigami));
  const KnownIndices ishi = ishigami_indices();
  for (std::size_t i = 0; i < 3; ++i) {
    INFO("input " << i);
    CHECK(found[i].first == Approx(ishi.first[i]).margin(0.01));
    CHECK(found[i].error < 0.02);
    CHECK(std::abs(found[i].first - ishi.first[i]) < 4.0 * found[i].error + 0.003);
  }
  const SampleMatrix u8 = Sobol(8, 4).points(0, 8192);
  const auto g = given_data_indices(u8, outputs(u8, g_function));
  for (std::size_t i = 0; i < 8; ++i) CHECK(g[i].first == Approx(g_indices().first[i]).margin(0.01));
}

TEST_CASE("bins don't feign an influence that is not there") {
  // Independent points: the mean over 100 samples of an idle input's index is 0 within four standard errors;
  // without the correction it would be (bins - 1)/points = 10/512. Scrambled points: between that below 0,
  // and 0.
  for (const bool independent : {true, false}) {
    double mean = 0.0, square = 0.0;
    for (std::uint64_t s = 0; s < 100; ++s) {
      SampleMatrix u = Sobol(5, s).points(0, 512);
      for (Eigen::Index i = 0; independent && i < u.size(); ++i) {
        u.data()[i] = unit_uniform(s, static_cast<std::uint64_t>(i));
      }
      const double first = given_data_indices(u, outputs(u, ishigami))[4].first;
      mean += first / 100.0;
      square += first * first / 100.0;
    }
    const double error = std::sqrt((square - mean * mean) / 100.0);
    INFO("mean " << mean << " +- " << error);
    if (independent) {
      CHECK(std::abs(mean) < 4.0 * error);
      CHECK(error < 10.0 / 512.0 / 10.0);
    } else {
      CHECK(mean < 0.0);
      CHECK(mean > -10.0 / 512.0);
    }
  }
}

TEST_CASE("the standard error of an index is what repeated independent samples scatter by") {
  double sum = 0.0, squares = 0.0, claimed = 0.0;
  const int studies = 200;
  for (std::uint64_t s = 0; s < studies; ++s) {
    SampleMatrix u(512, 3);
    for (Eigen::Index i = 0; i < u.size(); ++i) u.data()[i] = unit_uniform(s, static_cast<std::uint64_t>(i));
    const GivenDataIndex found = given_data_indices(u, outputs(u, ishigami))[0];
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

TEST_CASE("correlated inputs each get what would be known by them") {
  // y = x1, x2 correlated with it by 0.6: knowing x2 takes 0.36 of the variance away (derived).
  SampleMatrix x = Sobol(2, 6).points(0, 16384);
  std::vector<double> y;
  for (Eigen::Index i = 0; i < x.rows(); ++i) {
    const double x1 = normal_quantile(x(i, 0));
    x(i, 1) = 0.6 * x1 + 0.8 * normal_quantile(x(i, 1));
    y.push_back(x1);
  }
  const auto found = given_data_indices(x, y);
  CHECK(found[0].first == Approx(1.0).margin(0.02));
  CHECK(found[1].first == Approx(0.36).margin(0.02));
}

TEST_CASE("an input or output that doesn't vary has index 0") {
  SampleMatrix u = Sobol(2, 6).points(0, 64);
  u.col(1).setConstant(3.0);
  const auto found = given_data_indices(u, outputs(u, [](const double* x) { return x[0]; }));
  CHECK(found[0].first > 0.8);
  CHECK(found[1].first == 0.0);
  CHECK(given_data_indices(u, std::vector<double>(64, 0.1))[0].first == 0.0);
}

TEST_CASE("samples for sensitivity that make no sense are refused") {
  const SampleMatrix u = Sobol(2, 6).points(0, 64);
  CHECK_THROWS_WITH(given_data_indices(u, {1.0}), "sensitivity: one output for each row of inputs is needed");
  CHECK_THROWS_WITH(given_data_indices(u, std::vector<double>(64, std::nan(""))),
                    "sensitivity: every input and output must be finite");
  CHECK_THROWS_WITH(given_data_indices(SampleMatrix(8, 1), std::vector<double>(8, 1.0)),
                    Catch::Contains("sensitivity"));
}
