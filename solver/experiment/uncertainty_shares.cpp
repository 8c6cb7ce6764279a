#include "solver/experiment/uncertainty_shares.hpp"

#include "solver/experiment/seen_margins.hpp"
#include "solver/uncertainty/group_indices.hpp"

namespace tuft::experiment {

std::vector<UncertaintyShares> uncertainty_shares(const geometry::Case& content, const Questions& questions,
                                                  const study::Ensemble& sample) {
  std::vector<int> kinds;
  for (const study::Input& input : sample.inputs) kinds.push_back(static_cast<int>(input.kind()));
  const SeenMargins seen = seen_margins(content, questions, sample);
  const auto shares = uncertainty::group_indices(seen.points, kinds, study::kInputKinds, seen.margins);
  std::vector<UncertaintyShares> out;
  for (std::size_t c = 0; c < shares.size(); ++c) {
    UncertaintyShares entry;
    entry.claim = questions.claims[c];
    entry.varies = !is_constant(seen.margins[c]);
    for (std::size_t kind = 0; kind < study::kInputKinds; ++kind) entry.of[kind] = shares[c][kind];
    out.push_back(entry);
  }
  return out;
}

}  // namespace tuft::experiment
