#include "solver/experiment/uncertainty_shares.hpp"

#include <algorithm>
#include <iterator>

#include "solver/experiment/seen_margins.hpp"
#include "solver/numerics/constants.hpp"

namespace tuft::experiment {
namespace {

constexpr double kLeastShare = 0.01;   // told of a single value (judgement)
constexpr std::size_t kMostTold = 12;  // of a claim

/// The sets of inputs whose shares are asked for: of each group of correlated inputs all, then those of each
/// kind; at the end the kinds.
struct Sets {
  std::vector<std::vector<int>> groups;
  std::vector<std::vector<int>> all;

  std::size_t of_group(std::size_t group) const { return group * (1 + study::kInputKinds); }
  std::size_t of_kind(std::size_t kind) const { return of_group(groups.size()) + kind; }
};

Sets sets_of(const study::Sampler& sampler) {
  std::vector<std::size_t> kinds;
  for (const study::Input& input : sampler.inputs()) kinds.push_back(static_cast<std::size_t>(input.kind()));
  Sets out;
  out.groups = sampler.correlation().groups();
  const auto add_kinds = [&](const std::vector<int>& inputs) {
    for (std::size_t kind = 0; kind < study::kInputKinds; ++kind) {
      out.all.emplace_back();
      std::copy_if(inputs.begin(), inputs.end(), std::back_inserter(out.all.back()),
                   [&](int input) { return kinds[static_cast<std::size_t>(input)] == kind; });
    }
  };
  std::vector<int> every;
  for (const std::vector<int>& group : out.groups) {
    out.all.push_back(group);
    add_kinds(group);
    every.insert(every.end(), group.begin(), group.end());
  }
  add_kinds(every);
  return out;
}

std::vector<ValueShare> values_of(const Sets& sets, const std::vector<uncertainty::Share>& shares) {
  std::vector<ValueShare> out;
  for (std::size_t g = 0; g < sets.groups.size(); ++g) {
    const std::size_t at = sets.of_group(g);
    const uncertainty::Share& share = shares[at];
    if (share.first < kLeastShare || share.first <= numerics::kDeviations95 * share.error) continue;
    out.push_back({sets.groups[g], share, {}});
    for (std::size_t kind = 0; kind < study::kInputKinds; ++kind)
      out.back().of[kind] = shares[at + 1 + kind].first;
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const ValueShare& a, const ValueShare& b) { return a.share.first > b.share.first; });
  if (out.size() > kMostTold) out.resize(kMostTold);
  return out;
}

}  // namespace

std::vector<UncertaintyShares> uncertainty_shares(const geometry::Case& content, const Questions& questions,
                                                  const study::Sampler& sampler,
                                                  const study::Ensemble& sample) {
  std::vector<bool> cyclic;
  for (const study::Input& input : sampler.inputs()) cyclic.push_back(input.cyclic());
  const SeenMargins seen = seen_margins(content, questions, sample);
  const Sets sets = sets_of(sampler);
  const auto shares = uncertainty::variance_shares(seen.points, cyclic, sets.all, seen.margins);
  std::vector<UncertaintyShares> out;
  for (std::size_t c = 0; c < shares.size(); ++c) {
    UncertaintyShares entry;
    entry.claim = questions.claims[c];
    entry.varies = !is_constant(seen.margins[c]);
    if (entry.varies) entry.values = values_of(sets, shares[c]);
    for (std::size_t kind = 0; kind < study::kInputKinds; ++kind) {
      double told = 0.0;
      for (const ValueShare& value : entry.values) told += value.of[kind];
      const uncertainty::Share& whole = shares[c][sets.of_kind(kind)];
      entry.of[kind] = {std::max({told, whole.first, 0.0}), whole.error};
    }
    out.push_back(std::move(entry));
  }
  return out;
}

}  // namespace tuft::experiment
