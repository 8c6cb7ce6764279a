#include "solver/uncertainty/weights.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "solver/uncertainty/sobol.hpp"
#include "tests/uncertainty/linear_gaussian.hpp"

using namespace tuft::uncertainty;
using namespace tuft::test;

namespace {

/// Points drawn from a proposal, with their log weights.
struct Drawn {
  SampleMatrix z;
  std::vector<double> log_weight;
};

Drawn draw(const Proposal& proposal, int count, std::uint64_t seed) {
  const SampleMatrix u = Sobol(proposal.inputs() + 1, seed).points(0, count);
  Drawn out{SampleMatrix(count, proposal.inputs()), {}};
  for (Eigen::Index i = 0; i < count; ++i) {
    proposal.draw(u.row(i).data(), out.z.row(i).data());
    out.log_weight.push_back(proposal.log_weight(out.z.row(i).data()));
  }
  return out;
}

/// Where refined rounds ended.
struct Refined {
  SampleMatrix z;
  Weights weights;
  double effective_at_first = 0.0;
  int rounds = 0;
  int followed = 0;  ///< inputs, in the last round
};

/// Brings the likelihood in by steps that each leave 200 effective points, with a proposal between them.
Refined refine(const LinearGaussian& model, int inputs, int count) {
  Refined out;
  out.z = scores(Sobol(inputs, 3).points(0, count));
  std::vector<double> base(static_cast<std::size_t>(count), 0.0);
  out.effective_at_first = normalise(combined(model.log_likelihoods(out.z))).effective;
  for (; out.rounds < 20; ++out.rounds) {
    const std::vector<double> l = combined(model.log_likelihoods(out.z));
    const double exponent = tempering(l, 200.0, base);
    std::vector<double> tempered = base;
    for (std::size_t i = 0; i < l.size(); ++i) tempered[i] += exponent * l[i];
    out.weights = normalise(tempered);
    if (exponent == 1.0) return out;
    const Proposal proposal(out.z, out.weights);
    out.followed = static_cast<int>(proposal.followed().size());
    const Drawn next = draw(proposal, count, static_cast<std::uint64_t>(10 + out.rounds));
    out.z = next.z;
    base = next.log_weight;
  }
  return out;
}

}  // namespace

TEST_CASE("refined rounds keep more points and the same answer, with many idle inputs beside") {
  LinearGaussian model;
  model.error = 0.15;
  const Refined refined = refine(model, 60, 2048);
  INFO("effective points " << refined.effective_at_first << " and then " << refined.weights.effective
                           << " after " << refined.rounds << " rounds");
  CHECK(refined.effective_at_first < 10.0);
  CHECK(refined.rounds <= 4);
  CHECK(refined.weights.effective > 400.0);
  CHECK(refined.followed < 12);
  const auto known = model.posterior();
  for (int j = 0; j < LinearGaussian::kInputs; ++j) {
    const Moments m = moments(column(refined.z, j), refined.weights.value);
    CHECK(m.mean == Approx(known.mean[j]).margin(0.05));
    CHECK(m.deviation == Approx(std::sqrt(known.covariance(j, j))).margin(0.05));
  }
}

TEST_CASE("a likelihood so sharp that one point is left is reached by steps") {
  LinearGaussian model;
  model.error = 0.01;
  const Refined refined = refine(model, 8, 2048);
  CHECK(refined.effective_at_first < 5.0);
  CHECK(refined.rounds < 12);
  CHECK(refined.weights.effective >= 200.0);
  const auto known = model.posterior();
  for (int j = 0; j < LinearGaussian::kInputs; ++j) {
    const Moments m = moments(column(refined.z, j), refined.weights.value);
    CHECK(m.mean == Approx(known.mean[j]).margin(0.2 * std::sqrt(known.covariance(j, j))));
    CHECK(m.deviation == Approx(std::sqrt(known.covariance(j, j))).epsilon(0.15));
  }
}

TEST_CASE("weights of a proposal are bounded and average to one") {
  const LinearGaussian model;
  const SampleMatrix z = scores(Sobol(4, 3).points(0, 4096));
  const Proposal proposal(z, normalise(combined(model.log_likelihoods(z))), {0.2, 3.0});
  double mean = 0.0;
  const Drawn drawn = draw(proposal, 8192, 5);
  for (const double each : drawn.log_weight) {
    CHECK(each <= -std::log(0.2) + 1e-12);
    mean += std::exp(each) / 8192.0;
  }
  CHECK(mean == Approx(1.0).margin(0.02));
  const double far[4] = {1e150, -1e150, 0.0, 0.0};
  CHECK_FALSE(std::isnan(proposal.log_weight(far)));
}

TEST_CASE("where nothing was learned the proposal is the prior") {
  const SampleMatrix z = scores(Sobol(5, 3).points(0, 1024));
  const Proposal proposal(z, normalise(std::vector<double>(1024, 0.0)));
  CHECK(proposal.followed().empty());
  const double u[6] = {0.1, 0.2, 0.3, 0.4, 0.5, 0.9};
  double out[5];
  proposal.draw(u, out);
  for (int j = 0; j < 5; ++j) CHECK(out[j] == normal_quantile(u[j]));
  CHECK(proposal.log_weight(out) == 0.0);
}

TEST_CASE("fits that make no sense are refused") {
  const SampleMatrix z = scores(Sobol(2, 3).points(0, 64));
  const Weights even = normalise(std::vector<double>(64, 0.0));
  CHECK_THROWS_WITH(Proposal(z, normalise({0.0})), "proposal: one row of scores for each weight is needed");
  std::vector<double> one(64, -1000.0);
  one[3] = 0.0;
  CHECK_THROWS_WITH(Proposal(z, normalise(one)),
                    "proposal: fewer than two effective points are left to fit to");
  CHECK_THROWS_WITH(Proposal(z, even, {0.0, 3.0}), "proposal: the share of the prior must be > 0 and < 1");
  CHECK_THROWS_WITH(Proposal(z, even, {0.1, -1.0}), "significance = -1: must be finite and >= 0");
  SampleMatrix bad = z;
  bad(0, 0) = std::nan("");
  CHECK_THROWS_WITH(Proposal(bad, even), "proposal: every score must be finite");
}
