// The form in which a learned case holds a value: its distribution is that of the values it was made from.
#include "solver/experiment/learned_spread.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/uncertainty/normal.hpp"

using namespace tuft;
using namespace tuft::experiment;
using geometry::SpreadKind;
using uncertainty::Shape;

namespace {

study::Input input(Shape shape, double nominal, double low, double high) {
  study::Input out;
  out.key = "vents.a.cover.open";
  out.prior = {shape, nominal, low, high, 0.0, 1.0};
  return out;
}

/// Values at even parts of a distribution given by its quantiles.
template <class Quantile>
std::vector<double> values(const Quantile& quantile) {
  std::vector<double> out;
  for (int i = 0; i < 1000; ++i) out.push_back(quantile((i + 0.5) / 1000.0));
  std::reverse(out.begin(), out.end());
  return out;
}

uncertainty::Distribution as_prior(const LearnedSpread& spread) {
  constexpr Shape kShapes[] = {Shape::fixed,       Shape::normal,     Shape::uniform,
                               Shape::log_uniform, Shape::triangular, Shape::steps};
  const geometry::Value& v = spread.value;
  return {kShapes[static_cast<int>(v.spread)], *v, v.low, v.high, 0.0, 1.0, spread.steps};
}

/// Largest difference between the parts below a value in the spread and among the values.
double off(const LearnedSpread& spread, std::vector<double> sample) {
  uncertainty::require_valid(as_prior(spread), "learned");
  std::sort(sample.begin(), sample.end());
  double largest = 0.0;
  for (std::size_t i = 0; i < sample.size(); ++i)
    largest = std::max(largest, std::abs(uncertainty::cumulative(as_prior(spread), sample[i]) -
                                         (static_cast<double>(i) + 0.5) / 1000.0));
  return largest;
}

}  // namespace

TEST_CASE("a learned spread is the simplest that has the values' distribution") {
  const auto wide = input(Shape::uniform, 0.4, 0.1, 0.7);
  const auto normal = values([](double u) { return 0.4 + 0.05 * uncertainty::normal_quantile(u); });
  const LearnedSpread bell = learned_spread(wide, normal);
  CHECK(bell.value.spread == SpreadKind::normal);
  CHECK(*bell.value == Approx(0.4));
  CHECK(bell.value.high - *bell.value == Approx(0.098).epsilon(0.02));
  const auto flat = values([](double u) { return 0.2 + 0.3 * u; });
  CHECK(learned_spread(wide, flat).value.spread == SpreadKind::uniform);
  const auto ratio = values([](double u) { return 0.05 * std::pow(8.0, u); });
  const LearnedSpread logarithmic = learned_spread(input(Shape::log_uniform, 0.2, 0.04, 0.9), ratio);
  CHECK(logarithmic.value.spread == SpreadKind::log_uniform);
  CHECK(*logarithmic.value == Approx(0.05 * std::sqrt(8.0)).epsilon(0.02));
  for (const auto& spread : {bell, logarithmic}) CHECK(spread.steps.empty());
  CHECK(off(bell, normal) < 0.03);
  CHECK(off(learned_spread(wide, flat), flat) < 0.03);
  CHECK(off(logarithmic, ratio) < 0.03);
}

TEST_CASE("what has no simple form is written in steps") {
  const auto prior = input(Shape::log_uniform, 0.2, 0.01, 0.99);
  // One tail; two heaps; a prior cut off by a reading that says "at least".
  const auto tail = values([](double u) { return 0.05 - 0.08 * std::log(1.0 - u); });
  const auto heaps = values([](double u) { return u < 0.5 ? 0.1 + 0.1 * u : 0.7 + 0.2 * u; });
  const auto half = values([](double u) { return 0.4 + 0.1 * uncertainty::normal_quantile(0.5 + 0.5 * u); });
  for (const auto& sample : {tail, heaps, half}) {
    const LearnedSpread spread = learned_spread(prior, sample);
    CHECK(spread.value.spread == SpreadKind::steps);
    REQUIRE(spread.steps.size() == 17);
    CHECK(*spread.value == spread.steps[8]);
    CHECK(spread.steps.front() >= *std::min_element(sample.begin(), sample.end()) - 1e-12);
    CHECK(off(spread, sample) <= 1.0 / 16.0);  // a step, where one bridges the gap between two heaps
    if (sample != heaps) CHECK(off(spread, sample) < 0.035);
    double mean = 0.0, known = 0.0;
    for (int i = 0; i < 1000; ++i)
      mean += uncertainty::quantile(as_prior(spread), (i + 0.5) / 1000.0) / 1000.0;
    for (const double each : sample) known += each / 1000.0;
    CHECK(mean == Approx(known).epsilon(0.02));
  }
}

TEST_CASE("places are the parts of a spread in which the values lie") {
  const uncertainty::Distribution d{Shape::uniform, 0.5, 0.0, 1.0};
  CHECK(places_of(d, {0.0, 0.2505, 0.9999, 1.0}, 1000) == std::vector<int>{0, 250, 999, 999});
}

TEST_CASE("a learned case reproduces the claims within half of what is stated, and their verdicts") {
  ClaimProbability learned;
  learned.probability.value = 0.7;
  learned.probability.interval = {0.62, 0.78};
  ClaimProbability found = learned;
  CHECK(reproduces({learned}, {found}));
  found.probability.value = 0.775;  // half of 0.08 + 0.08
  CHECK(reproduces({learned}, {found}));
  found.probability.interval = {0.77, 0.78};
  CHECK_FALSE(reproduces({learned}, {found}));  // a surer look, and so half of 0.085
  found.probability = learned.probability;
  found.probability.value = 0.785;
  CHECK_FALSE(reproduces({learned}, {found}));
  found.probability.value = 0.7;
  found.verdict = uncertainty::Verdict::holds;
  CHECK(reproduces({learned}, {found}));  // not settled: either verdict may come
  learned.settled = true;
  CHECK_FALSE(reproduces({learned}, {found}));
}
