// What the reference says of a key, in words; the words a person writes stand in `backticks`.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/keys.hpp"

namespace tuft::casefile {

/// "`open`, `mesh`".
std::string code_list(const std::vector<std::string>& words);

/// What may stand there, with the allowed range: "a length, 0 mm to 100 mm".
std::string holds(const Key& key);

/// What it means, and for which kinds of thing.
std::string meaning(const Key& key);

}  // namespace tuft::casefile
