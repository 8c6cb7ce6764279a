// Bad case files and what is said about them: each NAME.yaml here holds one class of mistake, NAME.expected
// the whole text a person sees.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>

#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using tuft::casefile::test::file_text;

namespace {

std::vector<std::filesystem::path> bad_files() {
  std::vector<std::filesystem::path> out;
  for (const auto& entry : std::filesystem::directory_iterator(TUFT_SOURCE_DIR "/tests/messages")) {
    if (entry.path().extension() == ".yaml") out.push_back(entry.path());
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::string said_about(const std::filesystem::path& path) {
  const ReadResult result = read_case(path.string());
  std::string out;
  for (const auto* list : {&result.errors, &result.warnings}) {
    for (Diagnostic diagnostic : *list) {
      diagnostic.file = path.filename().string();  // where the tree lies is no part of the message
      out += format(diagnostic, result.file.text);
    }
  }
  return out;
}

}  // namespace

TEST_CASE("every bad file gets its message") {
  const std::vector<std::filesystem::path> files = bad_files();
  CHECK(files.size() >= 40);
  for (const std::filesystem::path& path : files) {
    std::filesystem::path expected = path;
    expected.replace_extension(".expected");
    INFO(path.filename().string());
    REQUIRE(std::filesystem::exists(expected));
    CHECK(said_about(path) == file_text(expected.string()));
  }
}

TEST_CASE("every expected text belongs to a file") {
  for (const auto& entry : std::filesystem::directory_iterator(TUFT_SOURCE_DIR "/tests/messages")) {
    if (entry.path().extension() != ".expected") continue;
    std::filesystem::path source = entry.path();
    source.replace_extension(".yaml");
    CHECK(std::filesystem::exists(source));
  }
}
