// Beliefs, and what was learned, as tables and text for a terminal.
#include "tools/io/uncertainty.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "geometry/casefile/units.hpp"
#include "tools/io/table.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

constexpr std::size_t kMostRows = 8;  // of a table; the files hold all

const geometry::Claim& claim_of(const geometry::Case& content, int index) {
  return at(content.claims, index);
}

std::string percent_cell(double share) { return significant(100.0 * share, 3, 0); }

// An index that can't be decided from nothing is shown as what it may be at most, not as a number below zero.
std::string share_cell(double share, const uncertainty::Interval& interval) {
  if (interval.low > 0.0 && share >= 0.005) return percent_cell(std::min(share, 1.0));
  return "<" + significant(std::max(1.0, std::ceil(100.0 * std::min(interval.high, 1.0))), 3, 0);
}

std::string sensitivity_text(const geometry::Case& content, const Uncertainty& uncertainty,
                             const experiment::Sensitivity& claim, const Look& look) {
  const std::string id = printable(claim_of(content, claim.claim).id);
  if (!claim.varies) return "\n" + id + " depends on no uncertain value.\n";
  Table table{{words("what " + id + " depends on"), numbers("alone", "%"), numbers("in all", "%"),
               words("interval", "%")}};
  for (std::size_t i = 0; i < claim.influences.size(); ++i) {
    const auto& influence = claim.influences[i];
    if (i >= kMostRows && !influence.rest) continue;
    const uncertainty::Interval& band = influence.index.total_interval;
    table.add({shortened(printable(influence_name(uncertainty.inputs, influence)), 60),
               share_cell(influence.index.first, influence.index.first_interval),
               share_cell(influence.index.total, band),
               percent_cell(std::max(0.0, band.low)) + " to " +
                   percent_cell(std::min(1.0, std::max(0.0, band.high)))});
  }
  return "\n" + lay_out(table.columns, 2, look);
}

std::string suggestions_text(const geometry::Case& content, const Uncertainty& uncertainty,
                             const Look& look) {
  if (uncertainty.suggestions.empty() || uncertainty.suggestions.front().total <= 0.0) return "";
  Table table{{words("what to measure next"), numbers("information gain", "bit"), words("most for")}};
  std::string how;
  for (std::size_t i = 0; i < std::min<std::size_t>(5, uncertainty.suggestions.size()); ++i) {
    const experiment::Suggestion& suggestion = uncertainty.suggestions[i];
    if (suggestion.total <= 0.0) break;
    std::size_t best = 0;
    for (std::size_t c = 1; c < suggestion.gain.size(); ++c)
      if (suggestion.gain[c] > suggestion.gain[best]) best = c;
    table.add(
        {shortened(printable(measurement_words(content, uncertainty.inputs, suggestion.measurement)), 60),
         significant(suggestion.total, 2, 3),
         printable(claim_of(content, uncertainty.questions.claims[best]).id)});
    if (i == 0) how = fill("  How: ", how_to(suggestion.measurement), look);
  }
  return "\n" + lay_out(table.columns, 2, look) + how;
}

// An interval [SI] in the unit that the case file has.
std::string value_interval(const uncertainty::Interval& interval, const std::string& unit_text) {
  const casefile::Unit unit = unit_text.empty()
                                  ? casefile::Unit{casefile::Dimension::number, "", 1.0, 0.0, true}
                                  : casefile::find_unit(unit_text);
  const auto number = [&](double si) { return significant((si - unit.offset) / unit.factor, 3); };
  return number(interval.low) + " to " + number(interval.high) + (unit_text.empty() ? "" : " " + unit_text);
}

std::string claims_table(const geometry::Case& content, const experiment::Learned& learned,
                         const Look& look) {
  Table table{{words("claim"), words("before"), words("after"), words("verdict")}};
  for (std::size_t c = 0; c < learned.after.size(); ++c)
    table.add({printable(claim_of(content, learned.after[c].claim).id), chance_cell(learned.before[c]),
               chance_cell(learned.after[c]), verdict_word(verdict_of(learned.after[c]))});
  return learned.after.empty() ? "" : lay_out(table.columns, 2, look);
}

std::string inputs_table(const experiment::Learned& learned, const LearnWords& words, const Look& look) {
  Table table{{io::words("input"), io::words("was, 95 %"), io::words("is, 95 %")}};
  for (const auto& probability : learned.probabilities) {
    if (!probability.moved) continue;
    table.add({shortened(printable(learned.inputs[probability.input].key), 60),
               value_interval(probability.before_interval, words.units[probability.input]),
               value_interval(probability.after_interval, words.units[probability.input])});
  }
  return table.empty() ? "\nNo input changed by more than the sampling noise.\n"
                       : "\n" + lay_out(table.columns, 2, look);
}

std::string contradictions_text(const experiment::Learned& learned, const LearnWords& words,
                                const Look& look) {
  std::string text;
  for (const auto& found : learned.contradictions)
    text += fill("  ! ", printable(contradiction_sentence(found, words)), look);
  return text;
}

// Nothing of what follows from so few points is shown: somebody would believe it.
std::string unreliable_text(const experiment::Learned& learned, const LearnWords& words, const Look& look) {
  const bool found = !learned.contradictions.empty();
  std::string text =
      fill("",
           std::string(found ? "The readings contradict the description, or each other."
                             : "No device within the description fits all the readings together, though each "
                               "reading fits it, and so does every pair of them.") +
               " " + counted(learned.samples, "sample") + " leave no more than " +
               significant(learned.effective, 2, 1) +
               " effective points: nothing is learned, because no number from them would be reliable.",
           look);
  text += contradictions_text(learned, words, look);
  return text +
         fill("",
              "Check these readings, and what the file says of the places where they were taken. Remove or "
              "correct what is wrong, and learn again. If all is right, more --samples may help.",
              look);
}

constexpr const char* kLeftToField =
    "left open: the network is unsure in a condition that the claim needs. tuft check asks the field too, "
    "and "
    "gives the verdict.";

bool any_left_to_field(const Uncertainty& uncertainty) {
  return std::any_of(uncertainty.claims.begin(), uncertainty.claims.end(),
                     [](const auto& claim) { return claim.left_to_field; });
}

// The field may turn what the network makes probable: no verdict before it was asked.
std::string told_verdict(const experiment::ClaimProbability& probability) {
  return probability.left_to_field ? kLeftOpen : verdict_word(verdict_of(probability));
}

}  // namespace

std::string chance_cell(const experiment::ClaimProbability& probability) {
  return probability.unsolved < 1.0 ? probability_text(probability.probability) : "-";
}

std::string model_text(const Uncertainty& uncertainty, const Look& look) {
  std::string text;
  std::istringstream sentences(uncertainty.model);
  for (std::string line; std::getline(sentences, line);) text += fill("  ", printable(line), look);
  return text;
}

std::string uncertainty_text(const geometry::Case& content, const Uncertainty& uncertainty,
                             const Look& look) {
  std::string text;
  for (const auto& probability : uncertainty.claims) {
    study::ClaimResult result{probability.claim, verdict_of(probability),
                              probability_sentence(content, uncertainty, probability)};
    text += claim_text(content, result, look);
  }
  if (uncertainty.sensitivity.planned)
    for (const auto& claim : uncertainty.sensitivity.claims)
      text += sensitivity_text(content, uncertainty, claim, look);
  text += suggestions_text(content, uncertainty, look);
  if (!uncertainty.model.empty()) text += "\n" + model_text(uncertainty, look);
  return text;
}

const experiment::ClaimProbability* probability_of(const Run& run, int claim) {
  if (!run.uncertainty) return nullptr;
  for (const auto& probability : run.uncertainty->claims)
    if (probability.claim == claim) return &probability;
  return nullptr;
}

std::string told(const Run& run, const study::ClaimResult& result) {
  const experiment::ClaimProbability* probability = probability_of(run, result.claim);
  if (probability == nullptr) return as_written(result.verdict);
  const std::string verdict = told_verdict(*probability);
  return probability->unsolved < 1.0 ? verdict + " (" + probability_text(probability->probability) + ")"
                                     : verdict + " (no sample has a solution)";
}

std::string verdicts_text(const Run& run, const Look& look) {
  if (run.claims.empty()) return "";
  if (!run.uncertainty)
    return fill("",
                summary_as_written(run.claims) + " " +
                    (run.not_sampled.empty() ? "No probabilities were asked for; tuft check gives them."
                                             : "There are no probabilities: " + run.not_sampled),
                look);
  Table table{{words("claim"), words("verdict"), words("true with (99 % interval)")}};
  for (const auto& result : run.claims) {
    const experiment::ClaimProbability* probability = probability_of(run, result.claim);
    if (probability == nullptr) continue;
    const study::Verdict found = verdict_of(*probability);
    table.add({shortened(printable(claim_of(run.content, result.claim).id), 40),
               {told_verdict(*probability), verdict_ink(found)},
               probability->unsolved < 1.0 ? probability_with_interval(probability->probability) : "-"});
  }
  return lay_out(table.columns, 0, look) +
         (any_left_to_field(*run.uncertainty) ? fill("", kLeftToField, look) : "");
}

std::string learned_text(const geometry::Case& content, const experiment::Learned& learned,
                         const LearnWords& words, const Look& look) {
  if (!learned.reliable) return unreliable_text(learned, words, look);
  std::string text = claims_table(content, learned, look) + inputs_table(learned, words, look) + "\n";
  for (std::size_t j = 0; j < learned.predictive_checks.size(); ++j)
    if (learned.predictive_checks[j].conflicts_with_model)
      text += fill("  ! ", printable(predictive_check_sentence(learned, j, words.observations[j])), look);
  if (learned.thin) text += contradictions_text(learned, words, look);
  text += fill("",
               counted(learned.samples, "sample") + ", " + significant(learned.effective, 3, 0) +
                   " effective after " + counted(static_cast<std::size_t>(learned.rounds), "refined round") +
                   (learned.thin ? "; that is few, so take the numbers as rough." : "."),
               look);
  return text;
}

std::string contradiction_sentence(const experiment::Contradiction& found, const LearnWords& words) {
  const auto name = [&](int index) { return "\"" + at(words.observations, index) + "\""; };
  const auto j = static_cast<std::size_t>(found.observation);
  const std::string expected = words.shown(j, found.expected), low = words.shown(j, found.interval.low),
                    high = words.shown(j, found.interval.high);
  std::string text = name(found.observation) + " contradicts " +
                     (found.against < 0 ? "the description, which predicts"
                                        : name(found.against) + ", which with the description predicts") +
                     " " + expected;
  if (low != high) text += " (nine in ten between " + low + " and " + high + ")";
  return text + "; a reading so far off occurs once in " +
         significant(1.0 / std::max(found.tail, 1e-6), 2, 0) + (found.tail < 1e-6 ? " or less." : ".");
}

std::string predictive_check_sentence(const experiment::Learned& learned, std::size_t j,
                                      const std::string& observation) {
  const experiment::PredictiveCheck& check = learned.predictive_checks[j];
  std::string text =
      "the case can't explain \"" + observation + "\" (one in " +
      significant(1.0 / std::max(check.tail.two_sided, 1e-6), 2, 0) +
      (check.lapse > experiment::kLikelyLapseProbability
           ? "; if the case is right, a slip with a probability of " + probability_text(check.lapse)
           : std::string()) +
      ")";
  if (check.suspects.empty() || check.out_of_reach)
    text +=
        "; no uncertain value can explain it: something is missing or described wrongly, such as an opening, "
        "a blocked vent or another load";
  if (!check.suspects.empty()) {
    const auto words = each(check.suspects, [&](const auto& suspect) {
      const auto& input = at(learned.inputs, suspect.input);
      return input.key + " (" + (suspect.larger ? "larger" : "smaller") +
             (input.kind() == study::InputKind::model     ? ", a law of the model"
              : input.origin == geometry::Origin::assumed ? ", assumed"
                                                          : "") +
             ")";
    });
    text += std::string("; ") + (check.out_of_reach ? "the closest is " : "likely cause: ") + listed(words);
  }
  return text + ". Also check the reading itself.";
}

}  // namespace tuft::io
