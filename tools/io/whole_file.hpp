// One file that appears whole or not at all.
#pragma once

#include <filesystem>
#include <string>

namespace tuft::output {

/// Writes a file beside its place under a hidden name and moves it there in one step. A file already there is
/// replaced only when its first bytes contain `ours`, a mark that we put into such files; an empty `ours`
/// replaces nothing. Throws FolderError, whose message names the place, and leaves nothing behind.
void write_whole_file(const std::filesystem::path& place, const std::string& bytes, const std::string& ours);

}  // namespace tuft::output
