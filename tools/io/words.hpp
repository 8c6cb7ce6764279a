// The words used for roles, places and conditions in everything a person reads.
#pragma once

#include <initializer_list>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "solver/study/words.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::io {

/// What the program is not, and what to mind around an opened device.
constexpr const char* kCaution =
    "Caution: this is a prediction, not a safety assessment. Beware of hot surfaces, open chassis and "
    "batteries, and "
    "spinning fans; never use smoke or liquids inside electronics, do not leave a running device with "
    "blocked vents alone, and follow the maker's instructions and your local rules.";

/// The same in one line, for a terminal.
constexpr const char* kCautionLine =
    "Caution: no safety assessment. Mind heat, batteries and fans (whole: tuft -h).";

/// Element of a list by an index of any type, as results have them.
template <class T, class Index>
const T& at(const std::vector<T>& list, Index index) {
  return list[index];
}

/// Name of a vent by its index, as files have it.
template <class Index>
const std::string& vent_name(const geometry::Case& content, Index vent) {
  return at(content.device.vents, vent).name;
}
/// The same as a person may read it.
template <class Index>
std::string shown_vent(const geometry::Case& content, Index vent) {
  return printable(vent_name(content, vent));
}

/// The entry for a value of an enumeration, given those of all its values in their order.
template <class Kind, class Entry>
Entry word_among(Kind kind, std::initializer_list<Entry> entries) {
  return entries.begin()[static_cast<std::size_t>(kind)];
}

/// intake, exhaust, both ways, idle.
std::string role_text(geometry::Role role);
/// The ink that a role is set apart with.
Ink role_ink(geometry::Role role);

/// The word for a verdict: holds, fails, undecided.
const char* verdict_word(study::Verdict verdict);

/// The ink that it is set apart with.
Ink verdict_ink(study::Verdict verdict);

/// What the values as written make of a claim, which is no verdict as it says nothing of how sure: "true as
/// written", "not true as written", "left open as written" (too close to its line, or a condition unsolved).
const char* as_written(study::Verdict verdict);

/// "flat, on table, load stress, lid 110°": the circumstances of a condition.
std::string circumstances(const geometry::Case& content, const geometry::Condition& condition);

/// "a", "a and b", "a, b and c".
using study::listed;

/// A condition's name in a sentence, in quotation marks.
using study::quoted;

/// "1 vent", "3 vents".
std::string counted(std::size_t count, const std::string& singular);

/// One sentence on a solved condition: which vents take air in, let it out, do both or neither, and how much
/// of the through-flow each carries.
std::string summary_sentence(const geometry::Case& content, const study::ConditionResult& result);

/// What all seams together carry of the through-flow [-].
double leaks_share(const geometry::Case& content, const study::ConditionResult& result);

/// Mass flow [kg/s] as a volume of room air [m3/s]. All volume flows that people see are of room air, so that
/// what goes in and what comes out can be compared and added.
double room_volume_flow(double mass_flow, const study::ConditionResult& result);

/// What `words_of` makes of each item; what is empty is left out.
template <class Items, class WordsOf>
std::vector<std::string> each(const Items& items, WordsOf words_of) {
  std::vector<std::string> words;
  for (const auto& item : items)
    if (std::string one = words_of(item); !one.empty()) words.push_back(std::move(one));
  return words;
}

/// Parts of a sentence with semicolons, or something else, between them.
std::string joined(const std::vector<std::string>& parts, const char* between = "; ");

}  // namespace tuft::io
