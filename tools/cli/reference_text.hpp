// The case-file reference for a terminal: keys with what they hold, their defaults and what they mean.
#pragma once

#include <string>
#include <vector>

#include "tools/io/grid.hpp"

namespace tuft::cli {

/// The keys at these paths of the key table, in order, wrapped to the look's width. Sections get a heading.
std::string keys_text(const std::vector<std::string>& paths, const io::Look& look);

/// The whole reference: how a file is written, then every section.
std::string reference_text(const io::Look& look);

}  // namespace tuft::cli
