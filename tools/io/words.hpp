// The words used for roles, places and conditions in everything a person reads.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "solver/study/words.hpp"
#include "tools/io/look.hpp"

namespace tuft::output {

/// intake, exhaust, both ways, idle.
std::string role_text(geometry::Role role);
/// The ink that a role is set apart with.
Ink role_ink(geometry::Role role);

/// The word for a verdict in results files: holds, fails, cannot-tell.
const char* verdict_word(study::Verdict verdict);

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

/// Parts of a sentence with semicolons between them.
std::string joined(const std::vector<std::string>& parts);

}  // namespace tuft::output
