// Reading the project's own files, for the tests that hold documents and layers to the code.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace tuft::test {

/// Top of the source tree.
std::filesystem::path source_dir();

/// Files under a folder of the source tree with one of the extensions (".cpp"), sorted; build and hidden
/// folders are left out.
std::vector<std::filesystem::path> files_under(const std::string& folder,
                                               const std::vector<std::string>& extensions);

/// Whole text of a file.
std::string text_of(const std::filesystem::path& path);

/// Lines of a text, without their ends.
std::vector<std::string> lines_of(const std::string& text);

/// Path relative to the source tree, with forward slashes.
std::string name_of(const std::filesystem::path& path);

/// First groups of all matches of a regular expression in a text.
std::vector<std::string> matches(const std::string& text, const std::string& expression);

/// What a source text includes, in order: the words between quotation marks or angle brackets.
std::vector<std::string> includes_of(const std::string& text);

}  // namespace tuft::test
