// Temperatures of sources, parts, skin and air as a table for a spreadsheet.
#pragma once

#include <string>

#include "tools/io/run.hpp"

namespace tuft::output {

/// One row a condition and thing; RFC 4180, lines end in CR LF. Cells that do not apply are empty. Throws
/// NotFinite.
std::string temperatures_csv(const Run& run);

}  // namespace tuft::output
