#include "tools/io/warnings.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tools/io/uncertainty.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using network::SourceState;
using study::SkinResult;

// "passage gap", "fins side", "the gap before grille": where it is.
std::string range_place(const study::RangeExceeded& range) {
  return word_among(range.kind, {"", "passage ", "fins ", "the gap before "}) + printable(range.name);
}

std::string source_warning(const study::SourceResult& source, UnitSystem units) {
  const std::string name = printable(source.name);
  switch (source.state) {
    case SourceState::full:
      break;
    case SourceState::throttled:
      return fmt::format("{} throttles: it is held at {} and takes {} of the {} asked for.", name,
                         temperature_text(source.throttles_at, units), watts(source.power),
                         watts(source.asked));
    case SourceState::at_least_power:
      return fmt::format(
          "{} is at its least power, {}, and still gets {}, above the {} at which it throttles.", name,
          watts(source.power), temperature_text(source.temperature, units),
          temperature_text(source.throttles_at, units));
    case SourceState::shut_down:
      return fmt::format("{} shuts down: even at its least power it would exceed {}. Its power is off here.",
                         name, temperature_text(source.shuts_down_at, units));
  }
  return "";
}

const geometry::Skin& skin_of(const geometry::Case& content, const SkinResult& skin) {
  return at(content.device.skins, skin.skin);
}

// "comb is exhaust instead of intake" for every vent whose role differs.
std::vector<std::string> differences(const geometry::Case& content, const study::ConditionResult& result,
                                     const study::OtherState& other) {
  std::vector<std::string> parts;
  for (std::size_t v = 0; v < other.vents.size() && v < result.vents.size(); ++v) {
    if (other.vents[v].role == result.vents[v].role) continue;
    parts.push_back(fmt::format("{} is {} instead of {}", shown_vent(content, v),
                                role_text(other.vents[v].role), role_text(result.vents[v].role)));
  }
  return parts;
}

std::string other_words(const geometry::Case& content, const study::ConditionResult& result,
                        const study::OtherState& other) {
  const std::vector<std::string> parts = differences(content, result, other);
  const std::string how =
      other.reached_by.empty() ? "" : " (reached by: " + printable(other.reached_by) + ")";
  const std::string what =
      parts.empty() ? "every vent has the same role, but the flows differ" : listed(parts);
  const std::string end = other.would_tip.empty() ? "" : "; it ceases to exist " + printable(other.would_tip);
  return fmt::format("Another state{}: {}{}.", how, what, end);
}

using study::ConditionResult;

constexpr std::size_t kMostNames = 4;  // conditions named in one sentence

/// Sentences, each with the conditions in which it is true, in the order they were met.
class Findings {
 public:
  explicit Findings(std::size_t conditions) : conditions_(conditions) {}

  void add(const std::string& sentence, const ConditionResult& where) {
    const auto same = [&](const Finding& finding) { return finding.sentence == sentence; };
    auto found = std::find_if(findings_.begin(), findings_.end(), same);
    if (found == findings_.end()) found = findings_.insert(found, {sentence, {}});
    found->where.push_back(quoted(printable(where.name)));
  }

  std::vector<std::string> sentences() const {
    std::vector<std::string> out;
    for (const Finding& finding : findings_) out.push_back(places(finding.where) + ": " + finding.sentence);
    return out;
  }

 private:
  struct Finding {
    std::string sentence;
    std::vector<std::string> where;
  };

  std::string places(std::vector<std::string> names) const {
    if (names.size() > 1 && names.size() == conditions_) return "in every condition";
    if (names.size() > kMostNames) {
      const std::size_t more = names.size() - kMostNames + 1;
      names.resize(kMostNames - 1);
      names.push_back(std::to_string(more) + " more");
    }
    return listed(names);
  }

  std::size_t conditions_;
  std::vector<Finding> findings_;
};

std::string whole_degrees(double kelvin, UnitSystem units) {
  return whole_temperature(kelvin, units) + " " + geometry::temperature_unit(units).name;
}

std::string source_finding(const study::SourceResult& source, UnitSystem units) {
  const std::string name = printable(source.name);
  switch (source.state) {
    case SourceState::full:
      break;
    case SourceState::throttled:
      return fmt::format("{} throttles at {} and takes {} of {} W.", name,
                         whole_degrees(source.throttles_at, units), significant(source.power, 2, 1),
                         significant(source.asked, 2, 1));
    case SourceState::at_least_power:
      return fmt::format("{} is at its least power and still above the {} at which it throttles.", name,
                         whole_degrees(source.throttles_at, units));
    case SourceState::shut_down:
      return fmt::format("{} shuts down at {}; its power is off here.", name,
                         whole_degrees(source.shuts_down_at, units));
  }
  return "";
}

// Steady states appear and vanish in pairs, one stable and one not, beside the one there always is.
std::string parity_words(const study::States& states) {
  const int found = states.stable + states.unstable;
  if (found % 2 != 0) return "";
  return fmt::format(
      " {} were found, {} of them unstable; their number is mostly odd, so one is probably missing.", found,
      states.unstable);
}

void add_states(const ConditionResult& result, Findings& findings) {
  if (!result.states.looked_for) return;
  if (result.states.stable == 0) {
    findings.add("no stable steady state; the flow would keep changing.", result);
  } else if (result.states.growth > 0.0) {
    findings.add(
        "the state shown is not stable, and the air would leave it; --details names " +
            std::string(result.states.others.size() == 1 ? "one that is stable" : "those that are stable") +
            ".",
        result);
  } else if (!result.states.others.empty()) {
    findings.add(fmt::format("{} steady states exist; the one that a cold start reaches is shown. --details "
                             "names the others and what would make the device change to them.{}",
                             result.states.stable, parity_words(result.states)),
                 result);
  } else if (result.states.unstable % 2 != 0) {
    findings.add("one stable steady state was found." + parity_words(result.states), result);
  }
  if (!result.states.left_out.empty())
    findings.add(
        "other steady states were searched for in part only: " + printable(result.states.left_out) + ".",
        result);
}

// Vents that do next to nothing each, and much of it all together.
void add_idle_group(const geometry::Case& content, const ConditionResult& result, Findings& findings) {
  const IdleGroup group = idle_group(content, result);
  if (group.vents.empty()) return;
  findings.add(fmt::format("{} do next to nothing each, but carry {} of the air together.",
                           few_vents(content, group.vents), percent_text(group.share)),
               result);
}

bool is_stagnant(const study::ConditionResult& result) {
  return study::is_stagnant(result.through_still_air);
}

std::string stagnant_words(const study::ConditionResult& result) {
  return fmt::format(
      "hardly any air passes; {} of the heat leaves by conduction through the still air in the "
      "openings. Slow currents, which are not modelled there, carry more: the temperatures are "
      "upper bounds, and no claim is decided by them but one that something stays below a temperature.",
      percent_text(result.through_still_air));
}

// Silicon is mostly limited to 85 °C to 125 °C by its maker, and no logic to more than 175 °C: common
// practice, no source.
constexpr double kMostForSilicon = 448.15, kUsualForSilicon = 398.15;  // [K]
constexpr double kColder = 0.5;  // below the room [K]: nothing here cools anything below it

std::string heat_doubt(const ConditionResult& result, const study::SourceResult& source, UnitSystem units) {
  if (!source.has_temperature) return "";
  const std::string name = printable(source.name);
  const std::string confirm = "; if it is so, write expected: [sources." + name + "].";
  if (source.temperature > kMostForSilicon)
    return fmt::format(
        "{} gets {}, more than silicon bears. Up to {} would be usual; check its power and "
        "its joins{}",
        name, whole_degrees(source.temperature, units), whole_degrees(kUsualForSilicon, units), confirm);
  if (source.temperature < result.ambient_temperature - kColder)
    return fmt::format(
        "{} gets {}, colder than the room, which nothing in a chassis makes it; check the room "
        "and the joins{}",
        name, whole_degrees(source.temperature, units), confirm);
  return "";
}

void add_doubts(const Run& run, const ConditionResult& result, Findings& findings) {
  for (const std::string& doubt : heat_doubts(run, result)) findings.add(doubt, result);
}

// Sources of so much heat whose temperature the case does not let anybody compute.
std::string untold_sentence(const Run& run) {
  constexpr double kMuch = 10.0;  // [W], judgement: less is mostly spread over a board
  std::vector<std::string> names;
  for (std::size_t s = 0; s < run.content.device.sources.size(); ++s) {
    double most = 0.0;
    for (const ConditionResult& result : run.conditions)
      if (result.report.converged && !result.sources[s].has_temperature)
        most = std::max(most, result.sources[s].power);
    if (most >= kMuch)
      names.push_back(printable(run.content.device.sources[s].name) + " (" + watts(most) + ")");
  }
  if (names.empty()) return "";
  return "No temperature of " + listed(names) + ": the file does not say by `joins` what " +
         (names.size() == 1 ? "its" : "their") + " heat goes through.";
}

void add_solved(const geometry::Case& content, const ConditionResult& result, Findings& findings) {
  add_states(result, findings);
  add_idle_group(content, result, findings);
  if (is_stagnant(result)) findings.add(stagnant_words(result), result);
  for (const study::SourceResult& source : result.sources)
    if (source.state != SourceState::full) findings.add(source_finding(source, content.units), result);
  for (const study::SkinResult& skin : result.skins)
    if (is_above_limit(skin))
      findings.add(fmt::format("{} is above the {}.", printable(at(content.device.skins, skin.skin).name),
                               limit_words(content, skin)),
                   result);
  for (const study::RangeExceeded& range : result.beyond_laminar)
    findings.add(range_place(range) + " leaves the laminar range: less air passes than computed.", result);
}

std::string leaks_sentence(const Run& run) {
  double most = 0.0;
  for (const ConditionResult& result : run.conditions)
    if (result.report.converged) most = std::max(most, leaks_share(run.content, result));
  if (most < run.content.thresholds.idle_share) return "";
  return "Seams, which are not shown, carry up to " + percent_text(most) + " of the air.";
}

std::string thresholds_sentence(const Run& run) {
  std::size_t count = 0;
  for (const ConditionResult& result : run.conditions) {
    if (!result.report.converged) continue;
    for (const study::VentResult& vent : result.vents)
      if (!vent.firm && !at(run.content.device.vents, vent.vent).is_leak) ++count;
  }
  if (count == 0) return "";
  return counted(count, "role") + (count == 1 ? " is" : " are") +
         " marked ?: near a threshold, so another role may be the true one.";
}

std::string assumed_sentence(const Run& run) {
  if (run.assumptions.empty()) return "";
  std::string text =
      counted(run.assumptions.size(), "value") + " not in the file had to be assumed; tuft lint lists them.";
  const std::vector<std::string> matter =
      run.uncertainty ? assumed_that_matter(*run.uncertainty) : std::vector<std::string>{};
  if (!matter.empty()) text += " Of these, the claims depend most on " + printable(listed(matter)) + ".";
  return text;
}

}  // namespace

std::vector<std::string> heat_doubts(const Run& run, const ConditionResult& result) {
  std::vector<std::string> doubts;
  for (const study::SourceResult& source : result.sources) {
    const std::string doubt = heat_doubt(result, source, run.content.units);
    if (!doubt.empty() && !geometry::contains(run.expected, "sources." + source.name))
      doubts.push_back(doubt);
  }
  return doubts;
}

std::vector<std::string> heat_warnings(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<std::string> warnings = each(result.sources, [&](const study::SourceResult& source) {
    return source_warning(source, content.units);
  });
  for (const SkinResult& skin : result.skins) {
    if (!is_above_limit(skin)) continue;
    warnings.push_back(fmt::format(
        "{} gets {}, above the {}. This is not a safety assessment.", printable(skin_of(content, skin).name),
        temperature_text(skin.temperature, content.units), limit_words(content, skin)));
  }
  return warnings;
}

bool is_above_limit(const study::SkinResult& skin) { return !skin.lies_on && skin.temperature > skin.limit; }

std::string limit_words(const geometry::Case& content, const SkinResult& skin) {
  const geometry::Skin& patch = skin_of(content, skin);
  return fmt::format("published limit for {} touched {}: {}{}", geometry::word_of(patch.material),
                     duration_text(*patch.contact), temperature_text(skin.limit, content.units),
                     skin.limit_seen ? "" : " (from memory)");
}

namespace {

std::vector<std::string> settled_warnings(const geometry::Case& content,
                                          const study::ConditionResult& result) {
  const study::States& states = result.states;
  if (!states.looked_for) return {};
  if (states.stable == 0)
    return {fmt::format("No stable steady state was found: at {} the flow would keep changing.",
                        printable(states.place))};
  std::vector<std::string> words;
  if (!states.left_out.empty())
    words.push_back("Other steady states were searched for in part only: " + printable(states.left_out) +
                    ".");
  if (states.others.empty()) {
    if (states.unstable % 2 != 0)
      words.push_back("One stable steady state was found." + parity_words(states));
    return words;
  }
  if (states.growth > 0.0)
    words.push_back(fmt::format("The state shown is not stable: at {} the air would leave it. {}.",
                                printable(states.place),
                                states.others.size() == 1 ? "Another one is stable" : "Others are stable"));
  else
    words.push_back(fmt::format(
        "{} steady states exist here. The one that a cold start reaches is shown{}.{}", states.stable,
        states.would_tip.empty() ? "" : "; it ceases to exist " + printable(states.would_tip),
        parity_words(states)));
  for (const study::OtherState& other : states.others) words.push_back(other_words(content, result, other));
  return words;
}

}  // namespace

std::vector<std::string> state_warnings(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<std::string> words = settled_warnings(content, result);
  if (is_stagnant(result)) {
    std::string sentence = stagnant_words(result);
    sentence[0] = 'H';
    words.insert(words.begin(), sentence);
  }
  return words;
}

std::vector<std::string> range_notes(const study::ConditionResult& result) {
  return each(result.beyond_laminar, [](const study::RangeExceeded& range) {
    return fmt::format(
        "{} leaves the laminar range (Reynolds number {:.0f}, its law ends at {:.0f}): it resists more than "
        "computed, and less air passes.",
        range_place(range), range.reynolds, range.limit);
  });
}

std::vector<std::string> overview_warnings(const Run& run) {
  Findings unsolved(run.conditions.size()), findings(run.conditions.size());
  for (const ConditionResult& result : run.conditions) {
    if (result.report.converged) {
      add_doubts(run, result, findings);
      add_solved(run.content, result, findings);
    } else {
      unsolved.add("no solution: " + printable(result.report.reason) + ".", result);
    }
  }
  std::vector<std::string> warnings = unsolved.sentences();
  for (std::string& sentence : findings.sentences()) warnings.push_back(std::move(sentence));
  for (const std::string& sentence :
       {leaks_sentence(run), untold_sentence(run), thresholds_sentence(run), assumed_sentence(run)})
    if (!sentence.empty()) warnings.push_back(sentence);
  return warnings;
}

}  // namespace tuft::io
