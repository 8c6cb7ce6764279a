// The use of a starting case: poses, supports, loads, conditions, and the first sentences to check.
#pragma once

#include <string>

#include "geometry/casefile/starter.hpp"

namespace tuft::casefile {

/// The sections `poses` to `claims` as text.
std::string starter_use(const Starter& starter);

}  // namespace tuft::casefile
