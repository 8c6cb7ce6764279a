// warmup.svg: temperatures, fan speeds and powers in time.
#pragma once

#include <string>

#include "tools/io/warmup.hpp"

namespace tuft::output {

/// The chart of the columns that are to be drawn, in degrees Celsius, rpm and W; the moments and limits that
/// are to be drawn too. Throws NotFinite when a number is not finite.
std::string warmup_chart(const Warmup& warmup);

}  // namespace tuft::output
