#include "solver/experiment/sensitivity.hpp"

#include <algorithm>
#include <numeric>

#include "solver/experiment/seen_margins.hpp"
#include "solver/study/statement.hpp"

namespace tuft::experiment {
namespace {

constexpr double kMostUnsolvedRuns = 0.1;  // judgement
constexpr int kFewestSamples = 40;         // given_data_indices asks for as many
constexpr double kLeastFirstOrder = 0.01;  // least first-order share told from the sample alone (judgement)
constexpr std::size_t kMostTold = 12;      // of a claim, from the sample alone
constexpr double kSigmas = 1.959964;       // of a 95 % interval

// How much each group matters to the claim it matters most to, by the sample alone.
std::vector<double> screen(const SeenMargins& seen, const std::vector<std::vector<int>>& groups) {
  std::vector<double> out(groups.size(), 0.0);
  for (const std::vector<double>& margins : seen.margins) {
    const auto indices = uncertainty::given_data_indices(seen.points, margins);
    for (std::size_t g = 0; g < groups.size(); ++g)
      for (const int input : groups[g]) out[g] = std::max(out[g], indices[input].first);
  }
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

// The plan counts only the inputs it varies; `columns` says which those are.
uncertainty::SampleMatrix rows_of(const uncertainty::SaltelliDesign& plan, const std::vector<int>& columns,
                                  int inputs) {
  uncertainty::SampleMatrix rows =
      uncertainty::SampleMatrix::Constant(static_cast<Eigen::Index>(plan.runs()), inputs, 0.5);
  std::vector<double> point(columns.size());
  for (std::size_t run = 0; run < plan.runs(); ++run) {
    plan.point(run, point.data());
    for (std::size_t c = 0; c < columns.size(); ++c)
      rows(static_cast<Eigen::Index>(run), columns[c]) = point[c];
  }
  return rows;
}

// Margins of all runs; where a run has no solution, the mean of the others.
std::vector<double> outputs(const geometry::Case& content, const geometry::Claim& claim,
                            const study::Batch& batch) {
  std::vector<double> out(batch.views.size(), 0.0);
  double sum = 0.0, count = 0.0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (batch.weights[i] <= 0.0) continue;
    out[i] = study::margin(content, claim, batch.views[i]);
    sum += out[i];
    count += 1.0;
  }
  for (std::size_t i = 0; i < out.size(); ++i)
    if (batch.weights[i] <= 0.0) out[i] = count > 0.0 ? sum / count : 0.0;
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

// Influence of one group by the sample: that of the member that tells most.
Influence told_by(const std::vector<uncertainty::GivenDataIndex>& indices, const std::vector<int>& group) {
  Influence out;
  out.inputs = group;
  out.index.first = -1.0;
  for (const int input : group) {
    const uncertainty::GivenDataIndex& index = indices[input];
    if (index.first <= out.index.first) continue;
    out.index.first = index.first;
    out.index.first_interval = {std::max(0.0, index.first - kSigmas * index.error),
                                std::min(1.0, index.first + kSigmas * index.error)};
  }
  return out;
}

Sensitivity told_by_sample(int claim, const SeenMargins& seen, const std::vector<double>& margins,
                           const std::vector<std::vector<int>>& groups) {
  Sensitivity out;
  out.claim = claim;
  out.varies = !is_constant(margins);
  if (!out.varies) return out;
  const auto indices = uncertainty::given_data_indices(seen.points, margins);
  for (const std::vector<int>& members : groups) {
    Influence influence = told_by(indices, members);
    if (influence.index.first >= kLeastFirstOrder && influence.index.first_interval.low > 0.0)
      out.influences.push_back(std::move(influence));
  }
  std::stable_sort(out.influences.begin(), out.influences.end(),
                   [](const Influence& a, const Influence& b) { return a.index.first > b.index.first; });
  if (out.influences.size() > kMostTold) out.influences.resize(kMostTold);
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
  const Grouping grouping = group(all, screen(seen, all), options.most_groups);
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
  const study::Batch batch = sampler.run(rows_of(plan, columns, inputs), ranks);
  out.runs = plan.runs();
  out.held = grouping.held;
  out.unsolved = static_cast<std::size_t>(std::count(batch.weights.begin(), batch.weights.end(), 0.0));
  if (static_cast<double>(out.unsolved) > kMostUnsolvedRuns * static_cast<double>(out.runs)) return out;
  uncertainty::Bootstrap bootstrap;
  bootstrap.seed = options.seed;
  for (std::size_t c = 0; c < questions.placed.size(); ++c) {
    const auto values = outputs(content, questions.placed[c], batch);
    out.claims.push_back(
        ranked(questions.claims[c], uncertainty::estimate_indices(plan, values, bootstrap), grouping));
  }
  return out;
}

double share_of(const SensitivityResult& result, const Influence& influence) {
  return result.planned ? influence.index.total : influence.index.first;
}

SensitivityResult sensitivity_by_sample(const geometry::Case& content, const Questions& questions,
                                        const study::Sampler& sampler, const study::Ensemble& sample) {
  SensitivityResult out;
  out.planned = false;
  if (sampler.inputs().empty() || questions.placed.empty()) return out;
  const SeenMargins seen = seen_margins(content, questions, sample);
  if (seen.points.rows() < kFewestSamples) return out;
  for (std::size_t c = 0; c < questions.placed.size(); ++c)
    out.claims.push_back(
        told_by_sample(questions.claims[c], seen, seen.margins[c], sampler.correlation().groups()));
  return out;
}

}  // namespace tuft::experiment
