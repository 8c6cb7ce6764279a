#include "solver/uncertainty/distribution.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "solver/uncertainty/normal.hpp"

using namespace tuft::uncertainty;

namespace {

const Distribution kNormal{Shape::normal, 35.0, 28.0, 42.0};
const Distribution kUniform{Shape::uniform, 4.0, 3.0, 5.0};
const Distribution kLogUniform{Shape::log_uniform, 2.0, 1.0, 4.0};
const Distribution kTriangular{Shape::triangular, 4.0, 3.0, 7.0};

Distribution bounded(Distribution d, double floor, double ceiling) {
  d.floor = floor;
  d.ceiling = ceiling;
  return d;
}

/// The part of a shape without bounds that lies below x, by its definition (D5).
double below_uncut(const Distribution& d, double x) {
  const double width = d.high - d.low;
  switch (d.shape) {
    case Shape::normal:
      return normal_cumulative((x - d.nominal) * 2.0 * kHalfWidth95 / width);
    case Shape::uniform:
      return std::clamp((x - d.low) / width, 0.0, 1.0);
    case Shape::log_uniform:
      return std::log(std::clamp(x, d.low, d.high) / d.low) / std::log(d.high / d.low);
    case Shape::triangular: {
      const double at = std::clamp(x, d.low, d.high), up = at - d.low, down = d.high - at;
      return at < d.nominal ? up * up / (width * (d.nominal - d.low))
                            : 1.0 - (down == 0.0 ? 0.0 : down * down / (width * (d.high - d.nominal)));
    }
    case Shape::steps: {
      double sum = 0.0;
      for (std::size_t k = 0; k + 1 < d.steps.size(); ++k)
        sum += std::clamp((x - d.steps[k]) / (d.steps[k + 1] - d.steps[k]), 0.0, 1.0);
      return sum / static_cast<double>(d.steps.size() - 1);
    }
    case Shape::fixed:
      break;
  }
  return x < d.nominal ? 0.0 : 1.0;
}

/// The part of the cut distribution that lies below x.
double below(const Distribution& d, double x) {
  const double from = below_uncut(d, d.floor), to = below_uncut(d, d.ceiling);
  return (below_uncut(d, x) - from) / (to - from);
}

double mean_of(const Distribution& d) {
  const int n = 20000;
  double sum = 0.0;
  for (int i = 0; i < n; ++i) sum += quantile(d, (i + 0.5) / n) / n;
  return sum;
}

}  // namespace

TEST_CASE("below a quantile lies the part asked for, with and without bounds") {
  const std::vector<Distribution> all = {kNormal,
                                         kUniform,
                                         kLogUniform,
                                         kTriangular,
                                         bounded(kNormal, 33.0, 50.0),
                                         bounded(kUniform, 3.5, 10.0),
                                         bounded(kLogUniform, 0.0, 3.0),
                                         bounded(kTriangular, 3.9, 6.0),
                                         {Shape::triangular, 3.0, 3.0, 5.0},
                                         {Shape::triangular, 5.0, 3.0, 5.0}};
  for (const Distribution& d : all) {
    require_valid(d, "test");
    double last = -std::numeric_limits<double>::infinity();
    for (double u = 0.01; u < 1.0; u += 0.01) {
      const double x = quantile(d, u);
      CHECK(below(d, x) == Approx(u).margin(1e-13));
      CHECK((x >= d.floor && x <= d.ceiling && x > last));
      last = x;
    }
  }
}

TEST_CASE("the shapes mean what they say") {
  CHECK(quantile(kNormal, 0.025) == Approx(28.0).epsilon(1e-14));
  CHECK(quantile(kNormal, 0.975) == Approx(42.0).epsilon(1e-14));
  CHECK(quantile(kUniform, 0.25) == Approx(3.5).epsilon(1e-15));
  CHECK(quantile(kLogUniform, 0.5) == Approx(2.0).epsilon(1e-14));
  // Derived: mean of a triangle is the mean of its corners, of a log-uniform (b - a)/ln(b/a).
  CHECK(mean_of(kTriangular) == Approx(14.0 / 3.0).epsilon(1e-6));
  CHECK(mean_of(kLogUniform) == Approx(3.0 / std::log(4.0)).epsilon(1e-6));
  CHECK(quantile({Shape::fixed, 7.0, 7.0, 7.0}, 0.3) == 7.0);
}

TEST_CASE("bounds cut off and scale up, and heap nothing at the bound") {
  // A normal cut at its own middle is the half normal: mean sd sqrt(2/pi) (derived), median sd q(0.75).
  const double sd = 1.0 / kHalfWidth95;
  const Distribution half = bounded({Shape::normal, 0.0, -1.0, 1.0}, 0.0, 1e9);
  CHECK(cut_away(half) == Approx(0.5).epsilon(1e-14));
  CHECK(quantile(half, 0.5) == Approx(sd * normal_quantile(0.75)).epsilon(1e-12));
  CHECK(mean_of(half) == Approx(sd * std::sqrt(2.0 / std::acos(-1.0))).epsilon(1e-4));
  CHECK(quantile(half, 1e-9) < 1e-8);
  CHECK(cut_away(kNormal) == 0.0);
  CHECK(cut_away(bounded(kUniform, 3.2, 1e9)) == Approx(0.1).epsilon(1e-14));
  CHECK(std::isfinite(quantile(bounded(kNormal, 0.0, 100.0), 0.5 * 0x1p-32)));
  CHECK(std::isfinite(quantile(bounded(kNormal, 0.0, 1e9), 1.0 - 0x1p-53)));
}

TEST_CASE("a spread that makes no sense is refused by name") {
  CHECK_THROWS_WITH(require_valid({Shape::uniform, 1.0, 2.0, 1.0}, "leak"),
                    "leak: the spread 2 .. 1 has no width");
  CHECK_THROWS_WITH(require_valid({Shape::uniform, 9.0, 1.0, 2.0}, "leak"),
                    "leak: the nominal value 9 lies outside the spread 1 .. 2");
  CHECK_THROWS_WITH(require_valid({Shape::log_uniform, 1.0, 0.0, 2.0}, "area"),
                    "area: a spread by a factor needs numbers above 0, found 0 .. 2");
  CHECK_THROWS_WITH(require_valid({Shape::normal, 1.0, 0.0, 3.0}, "power"),
                    "power: the nominal value of a normal spread must be the middle of 0 .. 3");
  CHECK_THROWS_WITH(require_valid(bounded(kUniform, 4.5, 9.0), "share"),
                    "share: the nominal value 4 lies outside the bounds 4.5 .. 9");
  CHECK_THROWS_WITH(require_valid(bounded(kNormal, 34.0, 36.0), "share"),
                    "share: the bounds 34 .. 36 leave less than half of the spread");
  const double nan = std::nan("");
  CHECK_THROWS_WITH(require_valid({Shape::normal, nan, 0.0, 3.0}, "power"),
                    "power: every number must be finite");
  CHECK_THROWS_WITH(require_valid(bounded(kNormal, nan, 36.0), "power"),
                    "power: every number must be finite");
}

TEST_CASE("a spread in steps has equal parts between its numbers, and half below the middle one") {
  const Distribution d{Shape::steps, 4.0, 2.0, 9.0, -1e9, 1e9, {2.0, 3.0, 4.0, 6.0, 9.0}};
  require_valid(d, "steps");
  CHECK(quantile(d, 0.25) == Approx(3.0));
  CHECK(quantile(d, 0.5) == Approx(4.0));
  CHECK(quantile(d, 0.875) == Approx(7.5));
  CHECK(quantile(d, 1e-12) == Approx(2.0));
  Distribution cut = d;
  cut.floor = 3.0;
  CHECK(quantile(cut, 1.0 / 3.0) == Approx(4.0));  // of the three parts left
  Distribution wrong = d;
  wrong.steps[2] = 1.0;
  CHECK_THROWS_AS(require_valid(wrong, "steps"), std::invalid_argument);
  wrong = d;
  wrong.steps.back() = 8.0;
  CHECK_THROWS_AS(require_valid(wrong, "steps"), std::invalid_argument);
}

TEST_CASE("the part below a value undoes the quantile, for every shape and where bounds cut it") {
  const Distribution shapes[] = {
      {Shape::normal, 3.0, 1.0, 5.0},     {Shape::normal, 3.0, 1.0, 5.0, 2.5, 6.0},
      {Shape::uniform, 3.0, 1.0, 5.0},    {Shape::log_uniform, 3.0, 1.0, 9.0, 1.5},
      {Shape::triangular, 2.0, 1.0, 5.0}, {Shape::steps, 3.0, 1.0, 9.0, 0.0, 8.0, {1.0, 2.0, 3.0, 3.5, 9.0}}};
  for (const Distribution& d : shapes)
    for (const double u : {0.001, 0.1, 0.37, 0.5, 0.9, 0.9999}) {
      INFO(static_cast<int>(d.shape) << " at " << u);
      CHECK(cumulative(d, quantile(d, u)) == Approx(u).epsilon(1e-9));
    }
}
