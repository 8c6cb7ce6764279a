// A warm-up as text for a terminal.
#pragma once

#include <string>

#include "tools/io/look.hpp"
#include "tools/io/warmup.hpp"

namespace tuft::output {

/// A header line, how long it soaks, a row for each source, patch of skin and zone, what happened when, and
/// the energy. Ends with a newline.
std::string warmup_text(const Warmup& warmup, const Look& look);

}  // namespace tuft::output
