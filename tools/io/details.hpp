// The short lines below a condition's table: leaks, fans, fins, zones, balances.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "tools/io/look.hpp"

namespace tuft::output {

/// One line a subject; subjects the device does not have are left out. Ends with a newline.
std::string detail_lines(const geometry::Case& content, const study::ConditionResult& result,
                         const Look& look);

}  // namespace tuft::output
