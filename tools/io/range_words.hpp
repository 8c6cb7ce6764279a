// Where a prediction leaves the range of its laws, in words.
#pragma once

#include <string>
#include <vector>

#include "solver/study/result.hpp"

namespace tuft::output {

/// "passage gap", "fins side", "the gap before grille": where it is.
std::string range_place(const study::RangeExceeded& range);

/// One sentence for each passage, fin stack or gap whose flow is no longer laminar: there the pressure drop
/// is larger than computed.
std::vector<std::string> range_notes(const study::ConditionResult& result);

}  // namespace tuft::output
