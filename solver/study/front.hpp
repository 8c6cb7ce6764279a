// What stands before a vent, in words.
#pragma once

#include <string>

#include "solver/study/result.hpp"

namespace tuft::study {

/// "free", "0.300 mm off what it faces, 70 % of it pressed shut", "shut".
std::string front_words(const VentResult& vent);

/// Whether two conditions differ in what stands before a vent enough to be the first thing to tell.
bool front_changes(const VentResult& from, const VentResult& to);

}  // namespace tuft::study
