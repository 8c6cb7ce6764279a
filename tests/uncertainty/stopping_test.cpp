#include "solver/uncertainty/probability.hpp"

#include <catch2/catch.hpp>
#include <vector>

#include "solver/uncertainty/sample_matrix.hpp"

using namespace tuft::uncertainty;

namespace {

const Probability kSure{1.0, 0.0, {0.99, 1.0}, 1000.0};
const Probability kOpen{0.95, 0.01, {0.92, 0.98}, 1000.0};

}  // namespace

TEST_CASE("rounds grow by doubling until settled or spent") {
  const Budget budget{16, 64, 1024};
  CHECK(next_points(0, budget) == 64);
  CHECK(next_points(64, budget) == 128);
  CHECK(next_points(512, budget) == 1024);
  CHECK(next_points(1024, budget) == 1024);
  CHECK(progress({kSure}, 0, budget) == Progress::go_on);
  CHECK(progress({kSure, kSure}, 64, budget) == Progress::settled);
  CHECK(progress({kSure, kOpen}, 64, budget) == Progress::go_on);
  CHECK(progress({kSure, kOpen}, 1024, budget) == Progress::spent);
  CHECK(progress({}, 64, budget) == Progress::settled);
}

TEST_CASE("a study that stops tells the truth, and two seeds don't contradict each other when settled") {
  // The event "sum of four inputs above c" over a range of c, from far below to far above both thresholds.
  const Budget budget{16, 32, 512};
  int settled_studies = 0, cheap_studies = 0;
  for (double c = 0.6; c < 3.4; c += 0.1) {
    std::vector<Verdict> verdicts;
    for (const std::uint64_t seed : {1u, 2u}) {
      const Replicates sequences(4, budget.replicates, seed);
      std::vector<double> event;
      Progress state = Progress::go_on;
      Probability p;
      int done = 0;
      while (state == Progress::go_on) {
        const int next = next_points(done, budget);
        const SampleMatrix u = sequences.points(event.size(), (next - done) * budget.replicates);
        for (Eigen::Index i = 0; i < u.rows(); ++i) event.push_back(u.row(i).sum() > c ? 1.0 : 0.0);
        done = next;
        p = probability(count_replicates(event, budget.replicates));
        state = progress({p}, done, budget);
      }
      if (state != Progress::settled) continue;
      ++settled_studies;
      cheap_studies += done < budget.most ? 1 : 0;
      verdicts.push_back(verdict(p));
    }
    INFO("c = " << c);
    if (verdicts.size() == 2) CHECK(verdicts[0] == verdicts[1]);
  }
  CHECK(settled_studies > 40);  // of 56
  CHECK(cheap_studies > 20);
}

TEST_CASE("points of replicates are those of their own sequences") {
  const Replicates sequences(3, 4, 77);
  const SampleMatrix block = sequences.points(5, 10);
  for (std::uint64_t k = 0; k < 10; ++k) {
    const Sobol own(3, mix(77, (5 + k) % 4));
    for (int j = 0; j < 3; ++j) CHECK(block(static_cast<Eigen::Index>(k), j) == own.at((5 + k) / 4, j));
  }
}

TEST_CASE("budgets that make no sense are refused") {
  CHECK_THROWS_WITH(Replicates(3, 1, 0), "sampling: at least two replicates are needed");
  CHECK_THROWS_WITH(Replicates(3, 2, 0).points(0, -1), "sampling: the number of points must not be negative");
  CHECK_THROWS_WITH(Replicates(3, 2, 0).points(std::uint64_t{1} << 33, 1),
                    "sampling: a replicate has no more than 2^32 points");
  CHECK_THROWS_WITH(next_points(0, {1, 64, 64}), "budget: at least two replicates are needed");
  CHECK_THROWS_WITH(next_points(0, {4, 60, 64}), "budget: points for each replicate must be powers of two");
  CHECK_THROWS_WITH(next_points(0, {4, 64, 32}), "budget: the first round must not be larger than the whole");
}
