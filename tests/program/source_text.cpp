#include "tests/program/source_text.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>

namespace tuft::test {
namespace fs = std::filesystem;

namespace {

bool is_left_out(const fs::path& folder) {
  const std::string name = folder.filename().string();
  return name.rfind("build", 0) == 0 || name.rfind('.', 0) == 0 || name == "out" || name == "node_modules";
}

}  // namespace

fs::path source_dir() { return TUFT_SOURCE_DIR; }

std::vector<fs::path> files_under(const std::string& folder, const std::vector<std::string>& extensions) {
  std::vector<fs::path> found;
  for (auto it = fs::recursive_directory_iterator(source_dir() / folder);
       it != fs::recursive_directory_iterator(); ++it) {
    if (it->is_directory() && is_left_out(it->path())) it.disable_recursion_pending();
    const std::string extension = it->path().extension().string();
    const bool wanted = std::find(extensions.begin(), extensions.end(), extension) != extensions.end();
    if (it->is_regular_file() && wanted) found.push_back(it->path());
  }
  std::sort(found.begin(), found.end());
  return found;
}

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string name_of(const fs::path& path) { return path.lexically_relative(source_dir()).generic_string(); }

std::vector<std::string> matches(const std::string& text, const std::string& expression) {
  const std::regex pattern(expression);
  std::vector<std::string> found;
  for (std::sregex_iterator it(text.begin(), text.end(), pattern), end; it != end; ++it) {
    found.push_back((*it)[1].str());
  }
  return found;
}

std::vector<std::string> includes_of(const std::string& text) {
  return matches(text, "(?:^|\n)[ \t]*#[ \t]*include[ \t]*[<\"]([^>\"]+)[>\"]");
}

}  // namespace tuft::test
