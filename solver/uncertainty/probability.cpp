#include "solver/uncertainty/probability.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "solver/numerics/checks.hpp"
#include "solver/uncertainty/normal.hpp"

namespace tuft::uncertainty {
namespace {

void check_counting(const std::vector<double>& event, int replicates, const std::vector<double>& weight) {
  if (replicates < 2) refuse("probability: at least two replicates are needed");
  if (event.size() < static_cast<std::size_t>(replicates))
    refuse("probability: at least one point for each replicate is needed");
  if (!weight.empty() && weight.size() != event.size())
    refuse("probability: as many weights as points are needed");
  for (const double each : event) {
    if (each >= 0.0 && each <= 1.0) continue;
    refuse("event = ", each, ": must be within 0 and 1");
  }
}

/// Wilson's interval for a share `p` seen among `n` independent points.
Interval wilson(double p, double n, double level) {
  const double z = normal_quantile(0.5 + 0.5 * level);
  const double scale = 1.0 + z * z / n;
  const double middle = (p + 0.5 * z * z / n) / scale;
  const double half = z * std::sqrt(p * (1.0 - p) / n + 0.25 * z * z / (n * n)) / scale;
  return {middle - half, middle + half};
}

bool is_power_of_two(int n) { return n > 0 && (n & (n - 1)) == 0; }

}  // namespace

std::vector<ReplicateCount> count_replicates(const std::vector<double>& event, int replicates,
                                             const std::vector<double>& weight) {
  check_counting(event, replicates, weight);
  std::vector<ReplicateCount> counts(static_cast<std::size_t>(replicates));
  double sum = 0.0;
  for (std::size_t k = 0; k < event.size(); ++k) {
    ReplicateCount& count = counts[k % counts.size()];
    const double w = weight.empty() ? 1.0 : numerics::require_not_negative(weight[k], "weight");
    count.hits += w * event[k];
    count.total += w;
    count.squares += w * w;
    sum += w;
  }
  if (sum <= 0.0) refuse("probability: at least one weight must be above 0");
  return counts;
}

Probability probability(const std::vector<ReplicateCount>& counts, double level) {
  if (counts.size() < 2) refuse("probability: at least two replicates are needed");
  require_inside(level, "level");
  double hits = 0.0, total = 0.0, squares = 0.0;
  for (const ReplicateCount& count : counts) {
    hits += count.hits;
    total += count.total;
    squares += count.squares;
  }
  numerics::require_positive(total, "weight of all replicates");
  numerics::require_positive(squares, "squared weights of all replicates");

  Probability out;
  out.value = std::clamp(hits / total, 0.0, 1.0);
  out.effective = total * total / squares;
  double spread = 0.0;
  for (const ReplicateCount& count : counts) {
    const double off = count.hits - out.value * count.total;
    spread += off * off;
  }
  const double replicates = static_cast<double>(counts.size());
  out.standard_error = std::sqrt(spread * replicates / (replicates - 1.0)) / total;

  const double t = student_quantile(0.5 + 0.5 * level, static_cast<int>(counts.size()) - 1);
  out.interval = {out.value - t * out.standard_error, out.value + t * out.standard_error};
  if (std::min(out.value, 1.0 - out.value) * out.effective < replicates) {
    const Interval wide = wilson(out.value, out.effective, level);
    out.interval.low = std::min(out.interval.low, wide.low);
    out.interval.high = std::max(out.interval.high, wide.high);
  }
  out.interval.low = std::clamp(out.interval.low, 0.0, 1.0);
  out.interval.high = std::clamp(out.interval.high, 0.0, 1.0);
  return out;
}

void require_valid(const VerdictRule& rule) {
  if (rule.fails_to >= 0.0 && rule.fails_to < rule.holds_from && rule.holds_from <= 1.0) return;
  refuse("verdict thresholds ", rule.fails_to, " and ", rule.holds_from,
         ": must rise and lie within 0 and 1");
}

Verdict verdict(const Probability& probability, const VerdictRule& rule) {
  require_valid(rule);
  if (probability.value >= rule.holds_from) return Verdict::holds;
  return probability.value <= rule.fails_to ? Verdict::fails : Verdict::undecided;
}

bool settled(const Probability& probability, const VerdictRule& rule) {
  const Verdict found = verdict(probability, rule);
  if (found == Verdict::holds) return probability.interval.low >= rule.holds_from;
  if (found == Verdict::fails) return probability.interval.high <= rule.fails_to;
  return probability.interval.low > rule.fails_to && probability.interval.high < rule.holds_from;
}

Replicates::Replicates(int dimensions, int count, std::uint64_t seed) {
  if (count < 2) refuse("sampling: at least two replicates are needed");
  for (std::uint64_t r = 0; r < static_cast<std::uint64_t>(count); ++r)
    sequence_.emplace_back(dimensions, mix(seed, r));
}

void Replicates::point(std::uint64_t k, double* out) const {
  sequence_[k % sequence_.size()].point(k / sequence_.size(), out);
}

SampleMatrix Replicates::points(std::uint64_t first, int count) const {
  if (count < 0) refuse("sampling: the number of points must not be negative");
  if ((first + static_cast<std::uint64_t>(count)) / sequence_.size() >> 32 != 0)
    refuse("sampling: a replicate has no more than 2^32 points");
  SampleMatrix rows(count, dimensions());
  for_each_piece(count, [&](long i) { point(first + static_cast<std::uint64_t>(i), rows.row(i).data()); });
  return rows;
}

void require_valid(const Budget& budget) {
  if (budget.replicates < 2) refuse("budget: at least two replicates are needed");
  if (!is_power_of_two(budget.first) || !is_power_of_two(budget.most))
    refuse("budget: points for each replicate must be powers of two");
  if (budget.first > budget.most) refuse("budget: the first round must not be larger than the whole");
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

}  // namespace tuft::uncertainty
