// Inputs that are correlated after learning: against the closed form, and as text in a learned case.
#include "solver/experiment/learn.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "geometry/casefile/rewrite.hpp"
#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/sobol.hpp"
#include "tests/experiment/device.hpp"

using namespace tuft;
using experiment::test::device_text;
using experiment::test::read;

namespace {

const std::string kGrille = "vents.grille.cover.open", kComb = "vents.comb.cover.open";

casefile::Rewritten with_ties(const std::string& text, const std::vector<casefile::NewTie>& correlations) {
  return casefile::rewrite(read(text), {}, "learned", correlations);
}

}  // namespace

TEST_CASE("what only a sum was measured of is correlated as the closed form has it") {
  // x, y standard normal and independent, x + y read with a standard deviation s: the posterior's covariance
  // is I - (1 1; 1 1)/(2 + s^2), its correlation -1/(1 + s^2) (derived). A third value has nothing to do with
  // it.
  constexpr double s = 0.5;
  const int n = 4096;
  const uncertainty::Sobol sequence(3, 11);
  uncertainty::SampleMatrix values(n, 3);
  std::vector<double> weights;
  double sum = 0.0, square = 0.0;
  for (int i = 0; i < n; ++i) {
    double u[3];
    sequence.point(static_cast<std::uint32_t>(i), u);
    for (int k = 0; k < 3; ++k) values(i, k) = uncertainty::normal_quantile(u[k]);
    const double off = (values(i, 0) + values(i, 1) - 0.7) / s;
    weights.push_back(std::exp(-0.5 * off * off));
    sum += weights.back();
    square += weights.back() * weights.back();
    values(i, 1) = std::exp(values(i, 1));  // the distribution of each one doesn't matter
  }
  const auto found = experiment::correlations(values, weights, sum * sum / square);
  REQUIRE(found.size() == 1);
  CHECK(found[0].first == 0);
  CHECK(found[0].second == 1);
  CHECK(found[0].correlation == Approx(-1.0 / (1.0 + s * s)).margin(0.02));
  CHECK(experiment::correlations(values, weights, 16.0).empty());  // it could be chance
  CHECK(experiment::correlations(values, std::vector<double>(weights.size(), 1.0), n).empty());
}

TEST_CASE("a pair is written where the file has its pairs, or at its end") {
  const auto fresh = with_ties(device_text(), {{kGrille, kComb, -0.613}});
  CHECK(fresh.untied.empty());
  CHECK(fresh.text.find("correlations:\n  - {inputs: [" + kGrille + ", " + kComb +
                        "], correlation: -0.61}\n") != std::string::npos);
  const auto content = read(fresh.text).content;
  REQUIRE(content.correlations.size() == 1);
  CHECK(content.correlations[0].correlation == Approx(-0.61));
  const std::string block = device_text() + "correlations:\n  # from one sheet\n  - inputs: [" + kGrille +
                            ", " + kComb + "]\n    correlation: 0.4\n";
  const auto more = with_ties(block, {{kComb, "fans.main.speed", -0.7}, {kGrille, kComb, 0.8}});
  INFO(more.text);
  REQUIRE(more.tied.size() == 1);
  REQUIRE(more.untied.size() == 1);  // the file ties them in its own way
  CHECK(more.untied[0].correlation == 0.8);
  CHECK(read(more.text).content.correlations.size() == 2);
  CHECK(more.text.find("# from one sheet") != std::string::npos);
  const std::string flow =
      device_text() + "correlations: [{inputs: [" + kGrille + ", " + kComb + "], correlation: 0.4}]\n";
  CHECK(read(with_ties(flow, {{kComb, "fans.main.speed", -0.7}}).text).content.correlations.size() == 2);
}

TEST_CASE("pairs that can't hold together, or are of no uncertain value, are left out and told") {
  const auto out = with_ties(device_text(), {{kGrille, kComb, 0.9},
                                             {kComb, "fans.main.speed", 0.9},
                                             {kGrille, "fans.main.speed", -0.9},
                                             {kGrille, "vents.outlet.blocked", 0.6}});
  CHECK(out.tied.size() == 1);
  CHECK(out.untied.size() == 3);
  CHECK(read(out.text).content.correlations.size() == 1);
}

TEST_CASE("three that hang together are written even where two of their pairs alone can't hold") {
  const auto out =
      with_ties(device_text(),
                {{kGrille, kComb, 0.8}, {kComb, "fans.main.speed", 0.8}, {kGrille, "fans.main.speed", 0.8}});
  CHECK(out.untied.empty());
  CHECK(read(out.text).content.correlations.size() == 3);
}
