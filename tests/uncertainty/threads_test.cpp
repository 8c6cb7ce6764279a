// The same bytes on one thread and on two.
#include <omp.h>

#include <catch2/catch.hpp>
#include <cstring>
#include <vector>

#include "solver/uncertainty/indices.hpp"
#include "solver/uncertainty/information_gain.hpp"
#include "solver/uncertainty/probability.hpp"
#include "solver/uncertainty/shares.hpp"
#include "solver/uncertainty/weights.hpp"
#include "tests/uncertainty/functions.hpp"
#include "tests/uncertainty/linear_gaussian.hpp"

using namespace tuft::uncertainty;
using namespace tuft::test;

namespace {

/// Everything that is shared among threads, as one row of numbers.
std::vector<double> everything(int threads) {
  omp_set_num_threads(threads);
  std::vector<double> out;
  const SampleMatrix u = Replicates(8, 16, 5).points(3, 2048);
  out.insert(out.end(), u.data(), u.data() + u.size());
  const SampleMatrix v = Sobol(8, 5).points(7, 500);
  out.insert(out.end(), v.data(), v.data() + v.size());
  std::vector<double> y;
  for (Eigen::Index i = 0; i < u.rows(); ++i) y.push_back(g_function(u.row(i).data()));
  for (const auto& of_output : variance_shares(u, std::vector<bool>(8), {{0}, {1, 2}, {3}}, {y, y, y}))
    for (const Share& each : of_output) out.insert(out.end(), {each.first, each.error});
  const SaltelliDesign plan(8, 256, 3);
  std::vector<double> point(8), output;
  for (std::size_t k = 0; k < plan.runs(); ++k) {
    plan.point(k, point.data());
    output.push_back(g_function(point.data()));
  }
  for (const Index& each : estimate_indices(plan, output).group) {
    out.insert(out.end(), {each.first, each.total, each.first_interval.low, each.total_interval.high});
  }
  std::vector<double> claim;
  for (const double each : y) claim.push_back(each > 1.0 ? 1.0 : 0.0);
  const Weights w = normalise(std::vector<double>(y.size(), 0.0));
  for (const InformationGain& each :
       rank_information_gain({{GaussianError{0.2, 0.0}, y}, {LeanError{1.0, 0.2, 0.0}, y}}, {claim}, w)) {
    out.insert(out.end(), {each.gain[0], each.error[0], each.total});
  }
  // A fit that follows many inputs, so that the products in it are large.
  const SampleMatrix z = scores(Sobol(60, 3).points(0, 4096));
  std::vector<double> l;
  for (Eigen::Index i = 0; i < z.rows(); ++i) l.push_back(0.05 * z.row(i).sum());
  const Proposal proposal(z, normalise(l), {0.1, 0.0});
  out.push_back(static_cast<double>(proposal.followed().size()));
  for (Eigen::Index i = 0; i < 20; ++i) out.push_back(proposal.log_weight(z.row(i).data()));
  return out;
}

}  // namespace

TEST_CASE("one thread or many, the bytes are the same") {
  const int before = omp_get_max_threads();
  const std::vector<double> one = everything(1), two = everything(2), three = everything(3);
  omp_set_num_threads(before);
  REQUIRE(one.size() == two.size());
  REQUIRE(one.size() == three.size());
  CHECK(std::memcmp(one.data(), two.data(), one.size() * sizeof(double)) == 0);
  CHECK(std::memcmp(one.data(), three.data(), one.size() * sizeof(double)) == 0);
}
