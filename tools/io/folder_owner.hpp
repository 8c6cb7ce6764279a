// Whether a folder that is in the way may be replaced.
#pragma once

#include <filesystem>
#include <string>

namespace tuft::output {

/// Empty when `place` is free, an empty folder, or a results folder that holds only the files which its own
/// results.json lists. Otherwise the reason, for a person, why it must not be replaced.
std::string reason_to_keep(const std::filesystem::path& place);

}  // namespace tuft::output
