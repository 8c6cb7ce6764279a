// What must not be overlooked in the conditions of a run, in short sentences.
#pragma once

#include <string>
#include <vector>

#include "tools/io/run.hpp"

namespace tuft::output {

/// Conditions without a solution, with several steady states or none, limits of chips and skin, laws left,
/// seams that carry much, roles close to a threshold, assumed values. What is so in several conditions is
/// said once, with their names.
std::vector<std::string> overview_warnings(const Run& run);

}  // namespace tuft::output
