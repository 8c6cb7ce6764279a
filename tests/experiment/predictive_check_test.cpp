// Observations that the case can't explain: strips, whose toss-ups keep every reading possible.
#include "solver/experiment/learn.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace tuft;
using namespace tuft::experiment;

namespace {

/// As many strips, each before a vent that blows (or draws) at a speed known within a tenth, with one reading
/// that stands out; what is said of each.
std::vector<PredictiveCheck> said(int strips, double speed, double odd_reading) {
  constexpr int kPoints = 64;
  const uncertainty::LeanError strip{0.1, 0.02, 0.02};
  std::vector<double> base(kPoints, 0.0), readings;
  uncertainty::SampleMatrix likelihood(kPoints, strips), scores(kPoints, 1);
  std::vector<std::vector<double>> shown;
  std::vector<uncertainty::ErrorModel> errors;
  for (int j = 0; j < strips; ++j) {
    errors.emplace_back(strip);
    readings.push_back(j == 0 ? odd_reading : speed > 0.0 ? 1.0 : -1.0);
    std::vector<double> values;
    for (int i = 0; i < kPoints; ++i) {
      scores(i, 0) = -2.0 + 4.0 * i / (kPoints - 1);
      values.push_back(speed * (1.0 + 0.1 * scores(i, 0)));
    }
    const auto column = uncertainty::log_likelihood(errors.back(), readings.back(), values);
    for (int i = 0; i < kPoints; ++i) likelihood(i, j) = column[static_cast<std::size_t>(i)];
    shown.push_back(std::move(values));
  }
  return predictive_checks({base, likelihood, shown, errors, readings}, scores);
}

}  // namespace

TEST_CASE(
    "a strip that hangs still in a gale, or leans the wrong way, is listed among any number of others") {
  for (const int strips : {1, 2, 3, 8, 20, 100}) {
    for (const double odd : {0.0, -1.0}) {
      CAPTURE(strips, odd);
      const auto found = said(strips, 2.0, odd);
      CHECK(found[0].conflicts_with_model);
      CHECK(found[0].lapse > 0.99);
      for (int j = 1; j < strips; ++j) CHECK_FALSE(found[static_cast<std::size_t>(j)].conflicts_with_model);
    }
    CHECK(said(strips, -2.0, 1.0)[0].conflicts_with_model);
  }
}

TEST_CASE("a reading the case lets one expect is not called a lapse") {
  // At the threshold out and still are as likely. Derived: for P(still) = 1/2 a lapse has the probability
  // (0.02/3) / (0.02/3 + 0.98/2) = 0.0134; other strips that lean out make a stronger blow likelier, up to
  // the largest value shown, one width above the threshold: 0.0067 / (0.0067 + 0.98 Phi(-1)) = 0.041.
  for (const int strips : {1, 3, 20}) {
    CAPTURE(strips);
    const auto found = said(strips, 0.1, 0.0);
    CHECK_FALSE(found[0].conflicts_with_model);
    CHECK(found[0].lapse < 0.041);
    if (strips == 1) CHECK(found[0].lapse == Approx(0.0134).epsilon(0.02));
  }
}

TEST_CASE("the probability of a lapse is Bayes' rule, by hand") {
  // Derived: one point far beyond the threshold, P(lapse | still) = (l/3) / (l/3 + (1 - l) P(still)); at a
  // signal one width above it P(still) = Phi(-1) = 0.158655.
  const uncertainty::Weights one = uncertainty::normalise({0.0});
  const uncertainty::LeanError strip{0.1, 0.02, 0.06};
  CHECK(uncertainty::lapse_probability(one, strip, 0.0, {0.12}) ==
        Approx(0.02 / (0.02 + 0.94 * 0.15865525393145707)));
  CHECK(uncertainty::lapse_probability(one, uncertainty::GaussianError{0.1, 0.0}, 5.0, {0.12}) == 0.0);
  CHECK(uncertainty::lapse_probability(one, uncertainty::LeanError{0.1, 0.02, 0.0}, 0.0, {5.0}) == 0.0);
}
