#include "solver/uncertainty/indices.hpp"

#include <cmath>
#include <utility>

#include "solver/numerics/checks.hpp"
#include "solver/uncertainty/normal.hpp"

namespace tuft::uncertainty {
namespace {

int checked_inputs(int inputs) {
  if (inputs >= 1 && inputs <= kMostDimensions / 2) return inputs;
  refuse("sensitivity: ", inputs, " inputs: must be 1 to ", kMostDimensions / 2);
}

void check_groups(const std::vector<std::vector<int>>& groups, int inputs) {
  std::vector<bool> seen(static_cast<std::size_t>(inputs), false);
  for (const std::vector<int>& group : groups) {
    if (group.empty()) refuse("sensitivity: a group of inputs is empty");
    for (const int input : group) {
      const bool there = input >= 0 && input < inputs;
      if (there && !seen[input]) {
        seen[input] = true;
        continue;
      }
      refuse("sensitivity: input ", input, (there ? " stands in two groups" : " does not exist"));
    }
  }
}

/// Outputs with their mean taken off, which takes noise off the first-order estimator.
struct Design {
  std::size_t rows = 0;
  std::size_t groups = 0;
  std::vector<double> output;

  double a(std::size_t i) const { return output[i]; }
  double b(std::size_t i) const { return output[rows + i]; }
  double mixed(std::size_t g, std::size_t i) const { return output[(2 + g) * rows + i]; }
};

struct Estimate {
  double variance = 0.0;
  std::vector<double> first, total;
};

/// The estimators, row i counted `count[i]` times.
Estimate estimate(const Design& design, const std::vector<double>& count) {
  double sum = 0.0, first_moment = 0.0, second_moment = 0.0;
  for (std::size_t i = 0; i < design.rows; ++i) {
    const double a = design.a(i), b = design.b(i);
    sum += count[i];
    first_moment += count[i] * (a + b);
    second_moment += count[i] * (a * a + b * b);
  }
  const double mean = first_moment / (2.0 * sum);
  Estimate out;
  out.variance = second_moment / (2.0 * sum) - mean * mean;
  out.first.assign(design.groups, 0.0);
  out.total.assign(design.groups, 0.0);
  if (!(out.variance > 0.0)) return out;
  for (std::size_t g = 0; g < design.groups; ++g) {
    double first = 0.0, total = 0.0;
    for (std::size_t i = 0; i < design.rows; ++i) {
      const double change = design.mixed(g, i) - design.a(i);
      first += count[i] * design.b(i) * change;
      total += count[i] * change * change;
    }
    out.first[g] = first / (sum * out.variance);
    out.total[g] = total / (2.0 * sum * out.variance);
  }
  return out;
}

std::vector<double> drawn_counts(std::size_t rows, std::uint64_t key) {
  std::vector<double> count(rows, 0.0);
  for (std::size_t i = 0; i < rows; ++i) count[below_count(key, i, static_cast<std::uint32_t>(rows))] += 1.0;
  return count;
}

/// Half width of the normal interval of values that scatter.
double half_width(const std::vector<Estimate>& draws, std::vector<double> Estimate::*which, std::size_t g,
                  double z) {
  const double n = static_cast<double>(draws.size());
  double mean = 0.0, squares = 0.0;
  for (const Estimate& draw : draws) mean += (draw.*which)[g] / n;
  for (const Estimate& draw : draws) squares += ((draw.*which)[g] - mean) * ((draw.*which)[g] - mean);
  return z * std::sqrt(squares / (n - 1.0));
}

/// The outputs, their mean over A and B taken off; the mean is returned in `mean`.
Design centred(const SaltelliDesign& plan, const std::vector<double>& output, double& mean) {
  const std::size_t rows = static_cast<std::size_t>(plan.base_points());
  mean = 0.0;
  // By the first output: a constant, however large, then has a variance of exactly 0.
  for (std::size_t i = 0; i < 2 * rows; ++i) mean += output[i] - output[0];
  mean = output[0] + mean / static_cast<double>(2 * rows);
  Design design{rows, plan.groups().size(), output};
  for (double& each : design.output) each -= mean;
  return design;
}

void check(const SaltelliDesign& plan, const std::vector<double>& output, const Bootstrap& bootstrap) {
  if (output.size() != plan.runs()) refuse("sensitivity: one output for each run of the plan is needed");
  if (!numerics::all_finite(output.data(), output.size())) refuse("sensitivity: every output must be finite");
  if (bootstrap.draws < 2) refuse("sensitivity: at least two bootstrap draws are needed");
  if (!(bootstrap.level > 0.0 && bootstrap.level < 1.0))
    refuse("sensitivity: the level of intervals must be > 0 and < 1");
}

}  // namespace

SaltelliDesign::SaltelliDesign(int inputs, int base_points, std::uint64_t seed,
                               std::vector<std::vector<int>> groups)
    : inputs_(checked_inputs(inputs)),
      base_points_(base_points),
      groups_(std::move(groups)),
      sequence_(2 * inputs, seed) {
  if (base_points < 2 || (base_points & (base_points - 1)) != 0)
    refuse("sensitivity: ", base_points, " points: must be a power of two, 2 or more");
  if (groups_.empty()) {
    for (int i = 0; i < inputs; ++i) groups_.push_back({i});
  }
  check_groups(groups_, inputs);
}

void SaltelliDesign::point(std::size_t run, double* out) const {
  if (run >= runs()) refuse("sensitivity: the plan has no such run");
  const std::size_t block = run / static_cast<std::size_t>(base_points_);
  const std::uint64_t index = run % static_cast<std::size_t>(base_points_);
  const int offset = block == 1 ? inputs_ : 0;
  for (int j = 0; j < inputs_; ++j) out[j] = sequence_.at(index, offset + j);
  if (block < 2) return;
  for (const int j : groups_[block - 2]) out[j] = sequence_.at(index, inputs_ + j);
}

Indices estimate_indices(const SaltelliDesign& plan, const std::vector<double>& output,
                         const Bootstrap& bootstrap) {
  check(plan, output, bootstrap);
  Indices out;
  const Design design = centred(plan, output, out.mean);
  const Estimate whole = estimate(design, std::vector<double>(design.rows, 1.0));
  out.variance = whole.variance;

  std::vector<Estimate> draws(static_cast<std::size_t>(bootstrap.draws));
  for_each_piece(bootstrap.draws, [&](long d) {
    const std::uint64_t key = mix(bootstrap.seed, static_cast<std::uint64_t>(d));
    draws[d] = estimate(design, drawn_counts(design.rows, key));
  });
  const double z = normal_quantile(0.5 + 0.5 * bootstrap.level);
  for (std::size_t g = 0; g < design.groups; ++g) {
    Index index;
    index.first = whole.first[g];
    index.total = whole.total[g];
    const double first = half_width(draws, &Estimate::first, g, z);
    const double total = half_width(draws, &Estimate::total, g, z);
    index.first_interval = {index.first - first, index.first + first};
    index.total_interval = {index.total - total, index.total + total};
    out.group.push_back(index);
  }
  return out;
}

}  // namespace tuft::uncertainty
