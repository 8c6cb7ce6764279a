// Numbers and lists in sentences.
#pragma once

#include <string>
#include <vector>

namespace tuft::study {

/// Three significant digits: "0.0123", "12.3", "1230".
std::string digits(double value);

/// A signed pressure with a unit a reader can picture: "-3.10 mPa", "+12.4 Pa".
std::string pascals(double value);

/// A share as a percentage: "37 %", "2.1 %".
std::string percent(double share);

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& words);

}  // namespace tuft::study
