// Files of results, read back.
#pragma once

#include <filesystem>
#include <string>

namespace tuft::io {

/// The bytes of a file. Throws std::runtime_error with a message for a person, beginning with the path, when
/// it is no file (a folder, a pipe, a device), is larger than 1 GB, or can't be read.
std::string read_whole(const std::filesystem::path& path);

}  // namespace tuft::io
