#include "solver/uncertainty/distribution.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/sobol.hpp"
#include "solver/uncertainty/weights.hpp"

using namespace tuft::uncertainty;

namespace {

/// Correlation of two columns.
double correlation_of(const SampleMatrix& rows, int a, int b) {
  const auto x = rows.col(a).array() - rows.col(a).mean();
  const auto y = rows.col(b).array() - rows.col(b).mean();
  return (x * y).sum() / std::sqrt((x * x).sum() * (y * y).sum());
}

}  // namespace

TEST_CASE("tied inputs have the correlation asked for and stay uniform") {
  const Correlation tied(5, {{1, 4, 0.8}, {3, 1, -0.3}});
  SampleMatrix rows = Sobol(5, 9).points(0, 16384);
  SampleMatrix free = rows;
  SampleMatrix scores = rows;
  for (Eigen::Index i = 0; i < rows.rows(); ++i) {
    tied.tie(rows.row(i).data());
    for (int j = 0; j < 5; ++j) scores(i, j) = normal_quantile(rows(i, j));
  }
  CHECK(correlation_of(scores, 1, 4) == Approx(0.8).margin(2e-3));
  CHECK(correlation_of(scores, 1, 3) == Approx(-0.3).margin(2e-3));
  CHECK(correlation_of(scores, 3, 4) == Approx(0.0).margin(2e-3));
  // Spearman's correlation of a Gaussian copula is 6/pi asin(r/2) (derived); uniforms are their own ranks.
  CHECK(correlation_of(rows, 1, 4) == Approx(6.0 / std::acos(-1.0) * std::asin(0.4)).margin(2e-3));
  for (int j = 0; j < 5; ++j) {
    CHECK(rows.col(j).mean() == Approx(0.5).margin(1e-3));
    CHECK(rows.col(j).array().square().mean() == Approx(1.0 / 3.0).margin(1e-3));
  }
  CHECK(rows.col(0) == free.col(0));
  CHECK(rows.col(2) == free.col(2));
  CHECK(tied.groups() == std::vector<std::vector<int>>{{0}, {1, 3, 4}, {2}});
}

TEST_CASE("scores at the far ends stay inside") {
  const Correlation tied(2, {{0, 1, 0.999}});
  double u[2] = {1.0 - 0x1p-33, 1.0 - 0x1p-33};
  tied.tie(u);
  CHECK((u[1] > 0.999999 && u[1] < 1.0));
}

TEST_CASE("a matrix that can't be says which entries clash") {
  // 1 follows 0, 2 follows 1, and 2 runs against 0. The pair (3, 4) has nothing to do with it.
  const std::vector<CorrelatedPair> pairs = {
      {3, 4, 0.5}, {0, 1, 0.9}, {1, 2, 0.9}, {2, 3, 0.1}, {0, 2, -0.9}};
  CHECK_THROWS_WITH(Correlation(5, pairs),
                    "the correlation matrix is not positive definite; these entries can't hold together: "
                    "(0, 1) = 0.9, (1, 2) = 0.9, (0, 2) = -0.9");
  CHECK_THROWS_WITH(Correlation(5, pairs, {"left fan", "right fan", "pump", "leak", "seam"}),
                    "the correlation matrix is not positive definite; these entries can't hold together: "
                    "(left fan, right fan) = 0.9, (right fan, pump) = 0.9, (left fan, pump) = -0.9");
  CHECK_NOTHROW(Correlation(3, {{0, 1, 0.9}, {1, 2, 0.9}, {0, 2, 0.7}}));
}

TEST_CASE("pairs that make no sense are refused") {
  CHECK_THROWS_WITH(Correlation(2, {{0, 2, 0.5}}),
                    "correlation of inputs 0 and 2: there are 2 inputs, counted from 0");
  CHECK_THROWS_WITH(Correlation(2, {{1, 1, 0.5}}),
                    "correlation (1, 1) = 0.5: an input can't be paired with itself");
  CHECK_THROWS_WITH(Correlation(2, {{0, 1, 1.0}}), "correlation (0, 1) = 1: must lie between -1 and 1");
  CHECK_THROWS_WITH(Correlation(2, {{0, 1, 0.5}, {1, 0, 0.5}}), "correlation (1, 0) = 0.5: given twice");
  CHECK_THROWS_WITH(Correlation(2, {{0, 1, std::nan("")}}), Catch::Contains("must lie between -1 and 1"));
  CHECK_THROWS_WITH(Correlation(-1), "correlation: the number of inputs must not be negative");
  CHECK_THROWS_WITH(Correlation(2, {}, {"a"}), "correlation: one name for each input is needed, or none");
}

TEST_CASE("inputs of a joint list take its rows equally often, each place spread over its part") {
  // Two devices in ten parts: (2, 7) and (5, 1). Input 1 is not of the list.
  const Correlation joint(3, {{0, 2, 0.9}, {1, 2, 0.5}}, {}, {{2, 0}, {{2, 7}, {5, 1}}, 10});
  REQUIRE(joint.groups().size() == 2);
  CHECK(joint.groups()[0] == std::vector<int>{0, 2});
  CHECK(joint.groups()[1] == std::vector<int>{1});
  int first = 0;
  const SampleMatrix u = Sobol(3, 1).points(0, 1024);
  double mean = 0.0;
  for (Eigen::Index i = 0; i < u.rows(); ++i) {
    std::vector<double> row(u.row(i).data(), u.row(i).data() + 3);
    const double alone = row[1];
    joint.tie(row.data());
    CHECK(row[1] == alone);
    const int a = static_cast<int>(row[2] * 10.0), b = static_cast<int>(row[0] * 10.0);
    CHECK(((a == 2 && b == 7) || (a == 5 && b == 1)));
    first += a == 2 ? 1 : 0;
    mean += (row[2] * 10.0 - a) / 1024.0;
    // Scores and coordinates are the same way.
    std::vector<double> z;
    for (int k = 0; k < 3; ++k) z.push_back(normal_quantile(u(i, k)));
    joint.tie_scores(z.data());
    for (int k = 0; k < 3; ++k)
      CHECK(normal_cumulative(z[static_cast<std::size_t>(k)]) == Approx(row[static_cast<std::size_t>(k)]));
  }
  CHECK(first == 512);
  CHECK(mean == Approx(0.5).margin(0.01));
}

TEST_CASE("joint lists that make no sense are refused") {
  const auto made = [](JointPlaces joint) { return Correlation(3, {}, {}, std::move(joint)); };
  CHECK_THROWS_AS(made({{0, 3}, {{1, 1}}, 10}), std::invalid_argument);
  CHECK_THROWS_AS(made({{0, 0}, {{1, 1}}, 10}), std::invalid_argument);
  CHECK_THROWS_AS(made({{0, 1}, {}, 10}), std::invalid_argument);
  CHECK_THROWS_AS(made({{0, 1}, {{1}}, 10}), std::invalid_argument);
  CHECK_THROWS_AS(made({{0, 1}, {{1, 10}}, 10}), std::invalid_argument);
  CHECK_NOTHROW(made({{0, 1}, {{1, 9}}, 10}));
}
