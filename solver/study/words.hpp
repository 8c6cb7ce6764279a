// Numbers and lists in sentences.
#pragma once

#include <string>
#include <vector>

namespace tuft::study {

/// Three significant digits: "0.0123", "12.3", "1230".
std::string digits(double value);

/// A signed pressure with a unit a reader can picture: "-3.10 mPa", "+12.4 Pa".
std::string pascals(double value);

/// The same in the unit that the largest of several has, so that what a sentence sets side by side compares.
std::string pascals(double value, double largest);

/// A share as a percentage: "37 %", "2.1 %".
std::string percent(double share);

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& words);

/// The name of a condition as a sentence has it: in quotation marks, as names such as in-use read as words of
/// the sentence else.
std::string quoted(const std::string& name);

}  // namespace tuft::study
