// What was learned, as text for a terminal.
#include <algorithm>
#include <cmath>

#include "geometry/casefile/units.hpp"
#include "tools/io/doubt.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

// An interval [SI] in the unit that the case file has.
std::string value_interval(const doubt::Interval& interval, const std::string& unit_text) {
  const casefile::Unit unit = unit_text.empty()
                                  ? casefile::Unit{casefile::Dimension::number, "", 1.0, 0.0, true}
                                  : casefile::find_unit(unit_text);
  const auto number = [&](double si) { return significant((si - unit.offset) / unit.factor, 3); };
  return number(interval.low) + " to " + number(interval.high) + (unit_text.empty() ? "" : " " + unit_text);
}

std::string claims_table(const geometry::Case& content, const belief::Learned& learned, const Look& look) {
  Column claim{"claim", "", {}}, before{"before", "", {}}, after{"after", "", {}};
  Column verdict{"verdict", "", {}};
  for (std::size_t c = 0; c < learned.after.size(); ++c) {
    claim.cells.push_back(printable(content.claims[static_cast<std::size_t>(learned.after[c].claim)].id));
    before.cells.push_back(chance_cell(learned.before[c]));
    after.cells.push_back(chance_cell(learned.after[c]));
    verdict.cells.push_back(shown_verdict(verdict_of(learned.after[c])));
  }
  return learned.after.empty() ? "" : lay_out({claim, before, after, verdict}, 2, look);
}

std::string inputs_table(const belief::Learned& learned, const LearnWords& words, const Look& look) {
  Column input{"input", "", {}}, was{"was, 95 %", "", {}}, is{"is, 95 %", "", {}};
  for (const auto& belief : learned.beliefs) {
    if (!belief.moved) continue;
    const auto index = static_cast<std::size_t>(belief.input);
    input.cells.push_back(shortened(printable(learned.inputs[index].key), 60));
    was.cells.push_back(value_interval(belief.before_interval, words.units[index]));
    is.cells.push_back(value_interval(belief.after_interval, words.units[index]));
  }
  return input.cells.empty() ? "\nNo input moved by more than the noise of the sample.\n"
                             : "\n" + lay_out({input, was, is}, 2, look);
}

std::string contradictions_text(const belief::Learned& learned, const LearnWords& words, const Look& look) {
  std::string text;
  for (const auto& found : learned.contradictions)
    text += fill("  ! ", printable(contradiction_sentence(found, words)), look.width);
  return text;
}

// Nothing of what follows from so few points is shown: somebody would believe it.
std::string unreliable_text(const belief::Learned& learned, const LearnWords& words, const Look& look) {
  const bool found = !learned.contradictions.empty();
  std::string text =
      fill("",
           std::string(found ? "The readings contradict the description, or each other."
                             : "No device within the description fits all the readings together, though each "
                               "reading fits it, and every two of them do.") +
               " " + counted(learned.samples, "sample") + " leave no more than " +
               significant(learned.effective, 2, 1) +
               " effective points: nothing is learned, and no number that would follow is to be relied on.",
           look.width);
  text += contradictions_text(learned, words, look);
  return text + fill("",
                     "Look at these readings and at what the file says of the places they were made at; take "
                     "out or mend what is wrong, and learn anew. If all is right, more --samples may help.",
                     look.width);
}

}  // namespace

std::string learned_text(const geometry::Case& content, const belief::Learned& learned,
                         const LearnWords& words, const Look& look) {
  if (!learned.reliable) return unreliable_text(learned, words, look);
  std::string text = claims_table(content, learned, look) + inputs_table(learned, words, look) + "\n";
  for (std::size_t j = 0; j < learned.surprises.size(); ++j)
    if (learned.surprises[j].unexplained)
      text += fill("  ! ", printable(surprise_sentence(learned, j, words.observations[j])), look.width);
  if (learned.thin) text += contradictions_text(learned, words, look);
  text += fill("",
               counted(learned.samples, "sample") + ", " + significant(learned.effective, 3, 0) +
                   " effective after " + counted(static_cast<std::size_t>(learned.rounds), "refined round") +
                   (learned.thin ? "; that is thin: take the numbers as rough." : "."),
               look.width);
  return text;
}

std::string contradiction_sentence(const belief::Contradiction& found, const LearnWords& words) {
  const auto name = [&](int index) {
    return "\"" + words.observations[static_cast<std::size_t>(index)] + "\"";
  };
  const auto j = static_cast<std::size_t>(found.observation);
  const std::string expected = words.shown(j, found.expected), low = words.shown(j, found.interval.low),
                    high = words.shown(j, found.interval.high);
  std::string text = name(found.observation) + " contradicts " +
                     (found.against < 0 ? "the description, which lets"
                                        : name(found.against) + ", which with the description lets") +
                     " one expect " + expected;
  if (low != high) text += " (nine in ten between " + low + " and " + high + ")";
  return text + "; a reading as far off comes once in " +
         significant(1.0 / std::max(found.tail, 1e-6), 2, 0) + (found.tail < 1e-6 ? " or less." : ".");
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
