// What is written from the key table stands in docs/ as it would be written now; the starter reads.
#include <catch2/catch.hpp>

#include <chrono>

#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/reference.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using tuft::casefile::test::file_text;
using tuft::casefile::test::full_case;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;

namespace {
const std::string kDocs = std::string(TUFT_SOURCE_DIR) + "/docs/";
const char* const kRemedy = "run write_case_docs docs after a change of the key table";
}  // namespace

TEST_CASE("the committed reference is the one the key table gives") {
  INFO(kRemedy);
  CHECK(file_text(kDocs + "case-file.md") == case_reference_markdown());
}

TEST_CASE("the committed schema is the one the key table gives") {
  INFO(kRemedy);
  CHECK(file_text(kDocs + "case-file.schema.json") == case_schema_json());
}

TEST_CASE("the reference names every key") {
  const std::string text = case_reference_markdown();
  for (const Key& key : key_table()) {
    CAPTURE(key.path);
    const bool section = key.path.find('.') == std::string::npos && key.path.find('[') == std::string::npos;
    CHECK(text.find(section ? "## " + key.path : "`" + key.path + "`") != std::string::npos);
  }
}

TEST_CASE("the starter reads without errors or warnings, whatever the device is called") {
  const std::vector<std::string> names = {
      "Notebook",      "",  "  ",  "with \"quotes\" and \\", "Größe ± 3: # {x} [y]", "two\nlines\t\x01",
      "bad \xFF byte", "'", "yes", std::string(5000, 'x')};
  for (const std::string& name : names) {
    const ReadResult result = read(test::notebook_case(name));
    INFO(messages(result));
    CHECK(result.errors.empty());
    CHECK(result.warnings.empty());
    CHECK_FALSE(result.file.content.device.name.empty());
  }
  CHECK(read(test::notebook_case("with \"quotes\" and \\")).file.content.device.name ==
        "with \"quotes\" and \\");
}

TEST_CASE("reading a case takes well under 20 ms") {
  const std::string text = full_case();
  double best = 1e9;  // the machine may be busy with other things: the best of some is what the work takes
  for (int i = 0; i < 10; ++i) {
    const auto start = std::chrono::steady_clock::now();
    const ReadResult result = read(text);
    best = std::min(
        best, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
    REQUIRE(result.errors.empty());
  }
  CAPTURE(best);
#ifdef NDEBUG
  CHECK(best < 20.0);
#else
  CHECK(best < 400.0);  // unoptimised and perhaps under a sanitizer
#endif
}
