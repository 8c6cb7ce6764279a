// Files that must not be there yet.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace tuft::program {

/// Writes all of these new files (path, bytes), or none: an existing file is never touched, and what was
/// begun is taken away when one cannot be written. Throws Failure (output_not_written).
void write_new_files(const std::vector<std::pair<std::string, std::string>>& files);

}  // namespace tuft::program
