// Where the program lies, and what was installed with it.
#pragma once

#include <filesystem>
#include <string>

namespace tuft::program {

/// The program's own file; empty when the system does not tell.
std::filesystem::path own_file();

/// The JSON Schema of case files that came with the program: installed beside it, or in the source tree it
/// was built in. Empty when there is none.
std::filesystem::path schema_file();

/// The engine for pages, beside the program; empty when there is none that can be used, and then a line on
/// standard error says why, and how to get one.
std::string engine_for_page();

/// A path as a file: URI, with everything but plain signs encoded.
std::string file_uri(const std::filesystem::path& path);

}  // namespace tuft::program
