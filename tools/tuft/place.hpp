// Where the program lies, and what was installed with it.
#pragma once

#include <filesystem>

namespace tuft::program {

/// The program's own file; empty when the system does not tell.
std::filesystem::path own_file();

/// The JSON Schema of case files that came with the program: installed beside it, or in the source tree it
/// was built in. Empty when there is none.
std::filesystem::path schema_file();

/// A path as a file: URI, with everything but plain signs encoded.
std::string file_uri(const std::filesystem::path& path);

}  // namespace tuft::program
