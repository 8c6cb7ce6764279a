#include "solver/experiment/question.hpp"

#include <algorithm>
#include <set>

#include "solver/study/statement.hpp"

namespace tuft::belief {

int place_of(const Questions& questions, int condition) {
  const auto& all = questions.conditions;
  const auto found = std::lower_bound(all.begin(), all.end(), condition);
  return found == all.end() || *found != condition ? -1 : static_cast<int>(found - all.begin());
}

Questions questions_of(const geometry::Case& content, const std::vector<int>& claims,
                       const std::vector<int>& also) {
  Questions out;
  std::set<int> needed(also.begin(), also.end());
  for (const int index : claims) {
    const geometry::Claim& claim = content.claims[static_cast<std::size_t>(index)];
    for (const int condition : geometry::conditions_of(claim)) needed.insert(condition);
    if (claim.seen_in >= 0) needed.insert(claim.seen_in);
  }
  out.claims = claims;
  out.conditions.assign(needed.begin(), needed.end());
  for (const int index : claims) {
    geometry::Claim claim = content.claims[static_cast<std::size_t>(index)];
    claim.when = place_of(out, claim.when);
    if (claim.against >= 0) claim.against = place_of(out, claim.against);
    if (claim.seen_in >= 0) claim.seen_in = place_of(out, claim.seen_in);
    out.placed.push_back(std::move(claim));
  }
  return out;
}

std::vector<double> truths(const geometry::Case& content, const Questions& questions,
                           const std::vector<study::View>& views) {
  std::vector<double> out;
  out.reserve(questions.placed.size());
  for (const geometry::Claim& claim : questions.placed)
    out.push_back(study::is_true(content, claim, views) ? 1.0 : 0.0);
  return out;
}

}  // namespace tuft::belief
