// Solved conditions and sweeps as text for a terminal.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "tools/io/grid.hpp"

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

}  // namespace tuft::io
