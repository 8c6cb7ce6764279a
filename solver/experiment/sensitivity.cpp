#include "solver/experiment/sensitivity.hpp"

#include <algorithm>
#include <numeric>

#include "solver/experiment/seen_margins.hpp"
#include "solver/numerics/constants.hpp"
#include "solver/study/statement.hpp"
#include "solver/uncertainty/shares.hpp"

namespace tuft::experiment {
namespace {

constexpr double kMostUnsolvedRuns = 0.1;  // judgement
constexpr int kFewestSamples = 40;         // uncertainty::variance_shares asks for as many

// How much each group matters to the claim it matters most to, by the sample alone.
std::vector<double> screen(const SeenMargins& seen, const study::Sampler& sampler,
                           const std::vector<std::vector<int>>& groups) {
  std::vector<bool> cyclic;
  for (const study::Input& input : sampler.inputs()) cyclic.push_back(input.cyclic());
  std::vector<double> out(groups.size(), 0.0);
  for (const auto& shares : uncertainty::variance_shares(seen.points, cyclic, groups, seen.margins))
    for (std::size_t g = 0; g < groups.size(); ++g) out[g] = std::max(out[g], shares[g].first);
  return out;
}

// The groups of the plan: those that matter most, then all the rest as one.
struct Grouping {
  std::vector<std::vector<int>> groups;  // numbers of inputs
  bool has_rest = false;
  int held = 0;
};

Grouping group(const std::vector<std::vector<int>>& groups, const std::vector<double>& weight, int most) {
  std::vector<std::size_t> order(groups.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return weight[a] > weight[b]; });
  Grouping out;
  std::vector<int> rest;
  int room = uncertainty::kMostDimensions / 2;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const std::vector<int>& here = groups[order[k]];
    if (static_cast<int>(here.size()) > room) {
      out.held += static_cast<int>(here.size());
      continue;
    }
    room -= static_cast<int>(here.size());
    if (static_cast<int>(k) < most)
      out.groups.push_back(here);
    else
      rest.insert(rest.end(), here.begin(), here.end());
  }
  if (!rest.empty()) {
    std::sort(rest.begin(), rest.end());
    out.groups.push_back(rest);
    out.has_rest = true;
  }
  return out;
}

// Where a run of the plan stands: those of one base point together, as a family of rows that differ in the
// inputs of one group.
std::size_t row_of(const uncertainty::SaltelliDesign& plan, std::size_t run) {
  const auto points = static_cast<std::size_t>(plan.base_points());
  return run % points * (plan.runs() / points) + run / points;
}

// The plan counts only the inputs it varies; `columns` says which those are.
uncertainty::SampleMatrix rows_of(const uncertainty::SaltelliDesign& plan, const std::vector<int>& columns,
                                  int inputs) {
  uncertainty::SampleMatrix rows =
      uncertainty::SampleMatrix::Constant(static_cast<Eigen::Index>(plan.runs()), inputs, 0.5);
  uncertainty::for_each_piece(rows.rows(), [&](long run) {
    std::vector<double> point(columns.size());
    plan.point(static_cast<std::size_t>(run), point.data());
    const auto row = static_cast<Eigen::Index>(row_of(plan, static_cast<std::size_t>(run)));
    for (std::size_t c = 0; c < columns.size(); ++c) rows(row, columns[c]) = point[c];
  });
  return rows;
}

// The places of conditions that a claim's margin looks at.
std::vector<bool> places_needed(const Questions& questions) {
  std::vector<bool> out(questions.conditions.size(), false);
  for (const geometry::Claim& claim : questions.placed)
    for (const int place : geometry::conditions_of(claim)) out[static_cast<std::size_t>(place)] = true;
  return out;
}

// Margins of all runs of the plan; where a run has no solution, the mean of the others.
std::vector<double> outputs(const geometry::Case& content, const geometry::Claim& claim,
                            const uncertainty::SaltelliDesign& plan, const study::Batch& batch) {
  std::vector<double> out(batch.views.size(), 0.0);
  const auto solved = [&](std::size_t run) { return batch.weights[row_of(plan, run)] > 0.0; };
  uncertainty::for_each_piece(static_cast<long>(out.size()), [&](long i) {
    const auto run = static_cast<std::size_t>(i);
    if (solved(run)) out[i] = study::margin(content, claim, batch.views[row_of(plan, run)]);
  });
  double sum = 0.0, count = 0.0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (!solved(i)) continue;
    sum += out[i];
    count += 1.0;
  }
  for (std::size_t i = 0; i < out.size(); ++i)
    if (!solved(i)) out[i] = count > 0.0 ? sum / count : 0.0;
  return out;
}

Sensitivity ranked(int claim, const uncertainty::Indices& indices, const Grouping& grouping) {
  Sensitivity out;
  out.claim = claim;
  out.varies = indices.variance > 0.0;
  if (!out.varies) return out;
  for (std::size_t g = 0; g < grouping.groups.size(); ++g) {
    const bool rest = grouping.has_rest && g + 1 == grouping.groups.size();
    out.influences.push_back({grouping.groups[g], rest, indices.group[g]});
  }
  // The rest is no input and no rival of one: it stands last whatever its share.
  std::stable_sort(out.influences.begin(), out.influences.end(), [](const Influence& a, const Influence& b) {
    return a.rest != b.rest ? b.rest : a.index.total > b.index.total;
  });
  return out;
}

}  // namespace

SensitivityResult sensitivity(const geometry::Case& content, const Questions& questions,
                              const study::Sampler& sampler, const study::Ensemble& sample,
                              const HangsOnOptions& options, const study::Ranks& ranks) {
  SensitivityResult out;
  const int inputs = static_cast<int>(sampler.inputs().size());
  if (inputs == 0 || questions.placed.empty()) return out;
  const SeenMargins seen = seen_margins(content, questions, sample);
  if (seen.points.rows() < kFewestSamples) return out;
  const auto& all = sampler.correlation().groups();
  const Grouping grouping = group(all, screen(seen, sampler, all), options.most_groups);
  std::vector<int> columns;
  std::vector<std::vector<int>> places;  // the groups, counted in `columns`
  for (const std::vector<int>& members : grouping.groups) {
    places.emplace_back();
    for (const int input : members) {
      places.back().push_back(static_cast<int>(columns.size()));
      columns.push_back(input);
    }
  }
  const uncertainty::SaltelliDesign plan(static_cast<int>(columns.size()), options.base_points, options.seed,
                                         places);
  const study::Batch batch = sampler.run(rows_of(plan, columns, inputs), ranks, places_needed(questions),
                                         static_cast<int>(plan.groups().size()) + 2);
  out.runs = plan.runs();
  out.held = grouping.held;
  out.unsolved = static_cast<std::size_t>(std::count(batch.weights.begin(), batch.weights.end(), 0.0));
  if (static_cast<double>(out.unsolved) > kMostUnsolvedRuns * static_cast<double>(out.runs)) return out;
  uncertainty::Bootstrap bootstrap;
  bootstrap.seed = options.seed;
  for (std::size_t c = 0; c < questions.placed.size(); ++c) {
    const auto values = outputs(content, questions.placed[c], plan, batch);
    out.claims.push_back(
        ranked(questions.claims[c], uncertainty::estimate_indices(plan, values, bootstrap), grouping));
  }
  return out;
}

double share_of(const SensitivityResult& result, const Influence& influence) {
  return result.planned ? influence.index.total : influence.index.first;
}

SensitivityResult sensitivity_by_sample(const std::vector<UncertaintyShares>& shares) {
  SensitivityResult out;
  out.planned = false;
  for (const UncertaintyShares& entry : shares) {
    Sensitivity claim;
    claim.claim = entry.claim;
    claim.varies = entry.varies;
    for (const ValueShare& value : entry.values) {
      Influence influence{value.inputs, false, {}};
      const double half = numerics::kDeviations95 * value.share.error;
      influence.index.first = value.share.first;
      influence.index.first_interval = {std::max(0.0, value.share.first - half),
                                        std::min(1.0, value.share.first + half)};
      claim.influences.push_back(std::move(influence));
    }
    out.claims.push_back(std::move(claim));
  }
  return out;
}

}  // namespace tuft::experiment
