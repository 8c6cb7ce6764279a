// Solved conditions, sweeps, claims and changes as text for a terminal; a run on one screen.
#pragma once

#include <string>
#include <vector>

#include "solver/study/predict.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/run.hpp"

namespace tuft::io {

/// A header line, the summary sentence, a row a vent with its role, flows and the pressures behind them, and
/// short lines on leaks, fans, fins, zones and balances. A condition without a solution: the header and the
/// reason. Volume flows are of room air. In a look too narrow for all columns, the pressures follow in a
/// table of their own. Ends with a newline.
std::string condition_text(const geometry::Case& content, const study::ConditionResult& result,
                           const Look& look);

/// How to read the tables, in one or two sentences: signs of the pressures, and what volumes are of.
std::string reading_help(const Look& look);

/// One line a subject; subjects the device does not have are left out. Ends with a newline.
std::string detail_lines(const geometry::Case& content, const study::ConditionResult& result,
                         const Look& look);

/// A row a vent, with the ranges of angle over which it keeps one role. Ends with a newline.
std::string sweep_text(const geometry::Case& content, const geometry::Sweep& sweep,
                       const study::SweepResult& result, const Look& look);

/// The same in one sentence: what a vent does at first, and from which angle on it does something else.
std::string sweep_sentence(const geometry::Case& content, const geometry::Sweep& sweep,
                           const study::SweepResult& result);

/// A title, what must not be overlooked, then a row a condition: the role of every vent, the air that passes,
/// the hottest chip, the hottest skin within reach; a key to the signs; a line a sweep. Signs and words say
/// what the colours say. What is too wide for the look is split into blocks, each with the conditions'
/// names. Ends with a newline.
std::string overview_text(const Run& run, const Look& look);

/// A claim's verdict, its sentence and why. Ends with a newline.
std::string claim_text(const geometry::Case& content, const study::ClaimResult& result, const Look& look);

/// The same of a claim judged with the values as written: "not true as written" in place of a verdict.
std::string claim_as_written_text(const geometry::Case& content, const study::ClaimResult& result,
                                  const Look& look);

/// "3 claims: 2 true as written, 1 not true as written."
std::string summary_as_written(const std::vector<study::ClaimResult>& results);

/// "3 claims: 2 hold, 1 undecided."
std::string claims_summary(const std::vector<study::ClaimResult>& results);

/// "intake", or "intake -> exhaust" where the role changes.
std::string role_step(const study::VentChange& change);

/// What changes from one condition to another: a row a vent, then why for those that change. `from` and `to`
/// are the conditions that `changes` was made from. Ends with a newline.
std::string changes_text(const geometry::Case& content, const study::ConditionResult& from,
                         const study::ConditionResult& to, const std::vector<study::VentChange>& changes,
                         const Look& look);

/// Temperatures side by side: air of zones, sources, parts and patches of skin that both have, matched by
/// their names, and how much warmer they become. Empty where there is none; else ends with a newline.
std::string temperatures_text(const geometry::Case& first, const study::ConditionResult& from,
                              const geometry::Case& second, const study::ConditionResult& to,
                              const Look& look);

}  // namespace tuft::io
