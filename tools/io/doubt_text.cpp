// Beliefs as tables and text for a terminal.
#include <algorithm>
#include <cmath>

#include "tools/io/claim_table.hpp"
#include "tools/io/doubt.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

constexpr std::size_t kMostRows = 8;  // of a table; the files hold all

const geometry::Claim& claim_of(const geometry::Case& content, int index) {
  return content.claims[static_cast<std::size_t>(index)];
}

std::string percent_cell(double share) { return significant(100.0 * share, 3, 0); }

// An index that can't be told from nothing is shown as what it may be at most, not as a number below zero.
std::string share_cell(double share, const doubt::Interval& interval) {
  if (interval.low > 0.0 && share >= 0.005) return percent_cell(std::min(share, 1.0));
  return "<" + significant(std::max(1.0, std::ceil(100.0 * std::min(interval.high, 1.0))), 3, 0);
}

std::string hangs_on_text(const geometry::Case& content, const Doubt& doubt, const belief::HangsOn& claim,
                          const Look& look) {
  const std::string id = printable(claim_of(content, claim.claim).id);
  if (!claim.varies) return "\n" + id + " depends on nothing that is in doubt.\n";
  Column name{"what " + id + " depends on", "", {}};
  Column alone{"alone", "%", {}, true}, total{"in all", "%", {}, true}, to{"interval", "%", {}};
  for (std::size_t i = 0; i < claim.influences.size(); ++i) {
    const auto& influence = claim.influences[i];
    if (i >= kMostRows && !influence.rest) continue;
    name.cells.push_back(shortened(printable(influence_name(doubt.inputs, influence)), 60));
    const doubt::Interval& band = influence.index.total_interval;
    alone.cells.push_back(share_cell(influence.index.first, influence.index.first_interval));
    total.cells.push_back(share_cell(influence.index.total, band));
    to.cells.push_back(percent_cell(std::max(0.0, band.low)) + " to " +
                       percent_cell(std::min(1.0, std::max(0.0, band.high))));
  }
  return "\n" + lay_out({name, alone, total, to}, 2, look);
}

std::string suggestions_text(const geometry::Case& content, const Doubt& doubt, const Look& look) {
  if (doubt.suggestions.empty() || doubt.suggestions.front().total <= 0.0) return "";
  Column what{"what to measure next", "", {}}, drop{"doubt less by", "bit", {}, true};
  Column most{"most for", "", {}};
  std::string how;
  for (std::size_t i = 0; i < std::min<std::size_t>(5, doubt.suggestions.size()); ++i) {
    const belief::Suggestion& suggestion = doubt.suggestions[i];
    if (suggestion.total <= 0.0) break;
    what.cells.push_back(
        shortened(printable(measurement_words(content, doubt.inputs, suggestion.measurement)), 60));
    drop.cells.push_back(significant(suggestion.total, 2, 3));
    std::size_t best = 0;
    for (std::size_t c = 1; c < suggestion.drop.size(); ++c)
      if (suggestion.drop[c] > suggestion.drop[best]) best = c;
    most.cells.push_back(printable(claim_of(content, doubt.questions.claims[best]).id));
    if (i == 0) how = fill("  How: ", how_to(suggestion.measurement), look.width);
  }
  return "\n" + lay_out({what, drop, most}, 2, look) + how;
}

}  // namespace

std::string chance_cell(const belief::ClaimBelief& belief) {
  return belief.unsolved < 1.0 ? probability_text(belief.probability) : "-";
}

std::string shown_verdict(study::Verdict verdict) {
  return verdict == study::Verdict::cannot_tell ? "can't be told" : verdict_word(verdict);
}

std::string doubt_text(const geometry::Case& content, const Doubt& doubt, const Look& look) {
  std::string text;
  for (const auto& belief : doubt.claims) {
    study::ClaimResult result{belief.claim, verdict_of(belief), belief_sentence(content, doubt, belief)};
    text += claim_text(content, result, look);
  }
  if (doubt.hangs_on.planned)
    for (const auto& claim : doubt.hangs_on.claims) text += hangs_on_text(content, doubt, claim, look);
  text += suggestions_text(content, doubt, look);
  if (!doubt.model.empty()) text += "\n" + fill("", printable(doubt.model), look.width);
  return text;
}

const belief::ClaimBelief* belief_of(const Run& run, int claim) {
  if (!run.doubt) return nullptr;
  for (const auto& belief : run.doubt->claims)
    if (belief.claim == claim) return &belief;
  return nullptr;
}

std::string told(const Run& run, const study::ClaimResult& result) {
  const belief::ClaimBelief* belief = belief_of(run, result.claim);
  if (belief == nullptr) return as_written(result.verdict);
  const std::string verdict = shown_verdict(verdict_of(*belief));
  return belief->unsolved < 1.0 ? verdict + " (" + probability_text(belief->probability) + ")"
                                : verdict + " (no sample has a solution)";
}

std::string verdicts_text(const Run& run, const Look& look) {
  if (run.claims.empty()) return "";
  if (!run.doubt)
    return fill("",
                summary_as_written(run.claims) + " No probabilities were asked for; tuft check gives them.",
                look.width);
  Column id{"claim", "", {}}, verdict{"verdict", "", {}}, chance{"true with (99 % interval)", "", {}};
  for (const auto& result : run.claims) {
    const belief::ClaimBelief* belief = belief_of(run, result.claim);
    if (belief == nullptr) continue;
    const study::Verdict found = verdict_of(*belief);
    id.cells.push_back(shortened(printable(claim_of(run.content, result.claim).id), 40));
    verdict.cells.push_back(shown_verdict(found));
    verdict.inks.push_back(found == study::Verdict::holds   ? Ink::green
                           : found == study::Verdict::fails ? Ink::red
                                                            : Ink::yellow);
    chance.cells.push_back(belief->unsolved < 1.0 ? probability_with_interval(belief->probability) : "-");
  }
  return lay_out({id, verdict, chance}, 0, look);
}

}  // namespace tuft::output
