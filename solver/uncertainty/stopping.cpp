#include "solver/uncertainty/stopping.hpp"

#include <algorithm>
#include <stdexcept>

#include "solver/uncertainty/hash.hpp"
#include "solver/uncertainty/parallel.hpp"

namespace tuft::doubt {

namespace {

bool is_power_of_two(int n) { return n > 0 && (n & (n - 1)) == 0; }

}  // namespace

Replicates::Replicates(int dimensions, int count, std::uint64_t seed) {
  if (count < 2) throw std::invalid_argument("sampling: at least two replicates are needed");
  for (std::uint64_t r = 0; r < static_cast<std::uint64_t>(count); ++r) {
    sequence_.emplace_back(dimensions, mix(seed, r));
  }
}

void Replicates::point(std::uint64_t k, double* out) const {
  sequence_[k % sequence_.size()].point(k / sequence_.size(), out);
}

Rows Replicates::points(std::uint64_t first, int count) const {
  if (count < 0) throw std::invalid_argument("sampling: the number of points must not be negative");
  if ((first + static_cast<std::uint64_t>(count)) / sequence_.size() >> 32 != 0) {
    throw std::invalid_argument("sampling: a replicate has no more than 2^32 points");
  }
  Rows rows(count, dimensions());
  for_each_piece(count, [&](long i) { point(first + static_cast<std::uint64_t>(i), rows.row(i).data()); });
  return rows;
}

void require_valid(const Budget& budget) {
  if (budget.replicates < 2) throw std::invalid_argument("budget: at least two replicates are needed");
  if (!is_power_of_two(budget.first) || !is_power_of_two(budget.most)) {
    throw std::invalid_argument("budget: points for each replicate must be powers of two");
  }
  if (budget.first > budget.most) {
    throw std::invalid_argument("budget: the first round must not be larger than the whole");
  }
}

Progress progress(const std::vector<Probability>& probabilities, int done, const Budget& budget,
                  const VerdictRule& rule) {
  require_valid(budget);
  if (done < budget.first) return Progress::go_on;
  const bool all = std::all_of(probabilities.begin(), probabilities.end(),
                               [&](const Probability& each) { return settled(each, rule); });
  if (all) return Progress::settled;
  return done < budget.most ? Progress::go_on : Progress::spent;
}

int next_points(int done, const Budget& budget) {
  require_valid(budget);
  if (done < budget.first) return budget.first;
  return done >= budget.most / 2 ? budget.most : 2 * done;
}

}  // namespace tuft::doubt
