// Beliefs as tables and text for a terminal.
#include <cmath>

#include "tools/output/claim_table.hpp"
#include "tools/output/doubt.hpp"
#include "tools/output/grid.hpp"
#include "tools/output/numbers.hpp"
#include "tools/output/utf8.hpp"
#include "tools/output/words.hpp"

namespace tuft::output {
namespace {

constexpr std::size_t kMostRows = 8;  // of a table; the files hold all

const geometry::Claim& claim_of(const geometry::Case& content, int index) {
  return content.claims[static_cast<std::size_t>(index)];
}

std::string percent_cell(double share) { return significant(100.0 * share, 3, 1); }

std::string hangs_on_text(const geometry::Case& content, const Doubt& doubt, const belief::HangsOn& claim,
                          const Look& look) {
  const std::string id = printable(claim_of(content, claim.claim).id);
  if (!claim.varies) return "\n" + id + " hangs on nothing that is in doubt.\n";
  Column name{"what " + id + " hangs on", "", {}};
  Column alone{"alone", "%", {}, true}, total{"in all", "%", {}, true}, to{"interval", "%", {}};
  for (std::size_t i = 0; i < std::min(kMostRows, claim.influences.size()); ++i) {
    const auto& influence = claim.influences[i];
    name.cells.push_back(shortened(printable(influence_name(doubt.inputs, influence)), 60));
    alone.cells.push_back(percent_cell(influence.index.first));
    total.cells.push_back(percent_cell(influence.index.total));
    to.cells.push_back(percent_cell(influence.index.total_interval.low) + " to " +
                       percent_cell(influence.index.total_interval.high));
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

// A dash where no sample has a solution: then there is no chance to give.
std::string chance_cell(const belief::ClaimBelief& belief) {
  return belief.unsolved < 1.0 ? percent_cell(belief.probability.value) : "-";
}

std::string interval_text(const doubt::Interval& interval) {
  return significant(interval.low, 3) + " to " + significant(interval.high, 3);
}

}  // namespace

std::string doubt_text(const geometry::Case& content, const Doubt& doubt, const Look& look) {
  std::string text;
  for (const auto& belief : doubt.claims) {
    study::ClaimResult result{belief.claim, verdict_of(belief), belief_sentence(content, doubt, belief)};
    text += claim_text(content, result, look);
  }
  for (const auto& claim : doubt.hangs_on.claims) text += hangs_on_text(content, doubt, claim, look);
  text += suggestions_text(content, doubt, look);
  if (!doubt.model.empty()) text += "\n" + fill("", printable(doubt.model), look.width);
  return text;
}

std::string learned_text(const geometry::Case& content, const belief::Learned& learned,
                         const std::vector<std::string>& observations, const Look& look) {
  std::string text;
  Column claim{"claim", "", {}}, before{"before", "%", {}, true}, after{"after", "%", {}, true};
  Column verdict{"verdict", "", {}};
  for (std::size_t c = 0; c < learned.after.size(); ++c) {
    claim.cells.push_back(printable(claim_of(content, learned.after[c].claim).id));
    before.cells.push_back(chance_cell(learned.before[c]));
    after.cells.push_back(chance_cell(learned.after[c]));
    const study::Verdict found = verdict_of(learned.after[c]);
    verdict.cells.push_back(found == study::Verdict::cannot_tell ? "can't be told" : verdict_word(found));
  }
  if (!learned.after.empty()) text += lay_out({claim, before, after, verdict}, 2, look);
  Column input{"input", "SI units", {}}, was{"was, 95 %", "", {}}, is{"is, 95 %", "", {}};
  for (const auto& belief : learned.beliefs) {
    if (!belief.moved) continue;
    input.cells.push_back(
        shortened(printable(learned.inputs[static_cast<std::size_t>(belief.input)].key), 60));
    was.cells.push_back(interval_text(belief.before_interval));
    is.cells.push_back(interval_text(belief.after_interval));
  }
  text += input.cells.empty() ? "\nNo input moved by more than the noise of the sample.\n"
                              : "\n" + lay_out({input, was, is}, 2, look);
  text += "\n";
  for (std::size_t j = 0; j < learned.surprises.size(); ++j)
    if (learned.surprises[j].unexplained)
      text += fill("  ! ", printable(surprise_sentence(learned, j, observations[j])), look.width);
  text += fill("",
               counted(learned.samples, "sample") + ", " + significant(learned.effective, 3, 0) +
                   " effective after " + counted(static_cast<std::size_t>(learned.rounds), "refined round") +
                   (learned.thin ? "; that is thin: take the numbers as rough." : "."),
               look.width);
  return text;
}

std::string surprise_sentence(const belief::Learned& learned, std::size_t j, const std::string& observation) {
  const belief::Surprise& surprise = learned.surprises[j];
  std::string text = "the case can't explain \"" + observation + "\" (one in " +
                     significant(1.0 / std::max(surprise.tail.two_sided, 1e-6), 2, 0) +
                     (surprise.lapse > belief::kLikelyLapse
                          ? ", if the case is right a slip with " + probability_text(surprise.lapse)
                          : std::string()) +
                     ")";
  if (surprise.suspects.empty() || surprise.out_of_reach)
    text +=
        "; no value in doubt reaches so far: something is missing or described wrongly, such as an opening, "
        "a "
        "blocked vent or another load";
  if (!surprise.suspects.empty()) {
    std::vector<std::string> words;
    for (const auto& suspect : surprise.suspects) {
      const auto& input = learned.inputs[static_cast<std::size_t>(suspect.input)];
      words.push_back(input.key + " (" + (suspect.larger ? "larger" : "smaller") +
                      (input.origin == geometry::Origin::assumed ? ", assumed" : "") + ")");
    }
    text += std::string("; ") + (surprise.out_of_reach ? "nearest to it comes " : "likely culprit: ") +
            listed(words);
  }
  return text + ". Look at the reading once more, too.";
}

}  // namespace tuft::output
