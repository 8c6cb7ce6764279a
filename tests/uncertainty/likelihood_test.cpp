#include "solver/uncertainty/likelihood.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "solver/uncertainty/normal.hpp"

using namespace tuft::uncertainty;

namespace {

double likelihood(const ErrorModel& model, double reading, double shown) {
  return std::exp(log_likelihood(model, reading, {shown})[0]);
}

/// Integral of the density over readings from `low` to `high`.
double mass(const ErrorModel& model, double shown, double low, double high) {
  const int n = 20000;
  double sum = 0.0;
  for (int i = 0; i < n; ++i) {
    sum += likelihood(model, low + (high - low) * (i + 0.5) / n, shown) * (high - low) / n;
  }
  return sum;
}

}  // namespace

TEST_CASE("densities integrate to one, and to the probability of a smaller reading") {
  const GaussianError gaussian{0.3, 0.1};
  CHECK(mass(gaussian, 5.0, 0.0, 10.0) == Approx(1.0).epsilon(1e-6));
  CHECK(mass(gaussian, 5.0, 0.0, 5.4) == Approx(place_of_reading(gaussian, 5.4, 5.0).below).epsilon(1e-4));
}

TEST_CASE("outcomes that can be listed have chances that sum to one and lean as the signal does") {
  const LeanError lean{1.0, 0.2, 0.06};
  for (const double s : {-3.0, -1.0, -0.2, 0.0, 0.3, 1.0, 2.5}) {
    CHECK(likelihood(lean, -1, s) + likelihood(lean, 0, s) + likelihood(lean, 1, s) ==
          Approx(1.0).epsilon(1e-14));
    CHECK(likelihood(lean, 1, s) == Approx(likelihood(lean, -1, -s)).epsilon(1e-14));
  }
  // At the threshold it is even; far off only the toss-up is left.
  CHECK(likelihood(lean, 1, 1.0) == Approx(0.5 * 0.94 + 0.02));
  CHECK(likelihood(lean, -1, 9.0) == Approx(0.02));
  CHECK(likelihood(lean, 1, 9.0) == Approx(0.96));
  CHECK(likelihood(lean, 0, 0.0) == Approx(0.96).epsilon(1e-5));
  CHECK(likelihood(lean, 1, 1.2) == Approx(0.94 * normal_cumulative(1.0) + 0.02));
}

TEST_CASE("without lapses the tails keep their logarithm") {
  CHECK(log_likelihood(LeanError{1.0, 0.1, 0.0}, 1, {-9.0})[0] == Approx(log_normal_cumulative(-100.0)));
  CHECK(log_likelihood(LeanError{1.0, 0.1, 0.0}, -1, {9.0})[0] == Approx(log_normal_cumulative(-100.0)));
}

TEST_CASE("imagined readings follow the density") {
  const std::vector<ErrorModel> models = {GaussianError{0.3, 0.1}, LeanError{1.0, 0.5, 0.06}};
  const int n = 20000;
  for (const ErrorModel& model : models) {
    const double shown = 1.1;
    for (double reading : {0.0, 0.5, 1.0, 1.3}) {
      if (!outcomes(model).empty() && reading != 0.0 && reading != 1.0) continue;
      int below = 0, equal = 0;
      for (int i = 0; i < n; ++i) {
        const double r = simulated_reading(model, shown, (i + 0.5) / n);
        below += r < reading ? 1 : 0;
        equal += r == reading ? 1 : 0;
      }
      const ReadingPlace place = place_of_reading(model, reading, shown);
      INFO("model " << model.index() << " reading " << reading);
      CHECK(below == Approx(place.below * n).margin(2.0));
      CHECK(equal == Approx(place.equal * n).margin(2.0));
    }
  }
  CHECK(std::isfinite(simulated_reading(GaussianError{1.0, 1e308}, 1e308, 0.99)));
}

TEST_CASE("models and readings that make no sense are refused") {
  CHECK_THROWS_WITH(require_valid(GaussianError{0.0, 0.1}), "absolute error = 0: must be finite and > 0");
  CHECK_THROWS_WITH(require_valid(GaussianError{1.0, -0.1}),
                    "relative error = -0.1: must be finite and >= 0");
  CHECK_THROWS_WITH(require_valid(LeanError{1.0, 0.0, 0.0}),
                    "width of the threshold = 0: must be finite and > 0");
  CHECK_THROWS_WITH(require_valid(LeanError{1.0, 0.1, 1.0}), "lapse rate = 1: must be >= 0 and < 1");
  CHECK_THROWS_WITH(require_valid(LeanError{-1.0, 0.1, 0.0}), "threshold = -1: must be finite and > 0");
  CHECK_THROWS_WITH(log_likelihood(LeanError{}, -2, {0.0}), "reading = -2: must be one of -1 0 1");
  CHECK_THROWS_WITH(log_likelihood(LeanError{}, 0.5, {0.0}), "reading = 0.5: must be one of -1 0 1");
  CHECK_THROWS_WITH(log_likelihood(GaussianError{}, std::nan(""), {0.0}), "reading = nan: must be finite");
  CHECK_THROWS_WITH(log_likelihood(GaussianError{}, 1.0, {std::numeric_limits<double>::infinity()}),
                    "values shown to an instrument: every one must be finite");
}
