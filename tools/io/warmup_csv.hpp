// warmup.csv: a row a time, for spreadsheets.
#pragma once

#include <string>

#include "tools/io/warmup.hpp"

namespace tuft::output {

/// The table with a header row that states the units: time, then the columns. Lines end with CR LF (RFC
/// 4180), numbers read back exactly. Throws NotFinite when a number is not finite.
std::string warmup_csv(const Warmup& warmup);

}  // namespace tuft::output
