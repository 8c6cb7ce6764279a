// What a run found, at a glance: which vents draw in and which blow out in every condition.
#pragma once

#include <string>

#include "tools/io/grid.hpp"
#include "tools/io/run.hpp"

namespace tuft::io {

/// A title, what must not be overlooked, then a row a condition: the role of every vent, the air that passes,
/// the hottest chip, the hottest skin within reach; a key to the signs; a line a sweep. Signs and words say
/// what the colours say. What is too wide for the look is split into blocks, each with the conditions'
/// names. Ends with a newline.
std::string overview_text(const Run& run, const Look& look);

}  // namespace tuft::io
