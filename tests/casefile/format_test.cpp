// The excerpt: the caret stands under the character it means, whatever the line holds.
#include <catch2/catch.hpp>

#include "geometry/casefile/text.hpp"
#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;

namespace {

Diagnostic at(int line, int column) {
  Diagnostic found;
  found.file = "f.yaml";
  found.line = line;
  found.column = column;
  found.message = "message";
  return found;
}

}  // namespace

TEST_CASE("place, key, message, hint, excerpt") {
  Diagnostic found = at(2, 4);
  found.key = "a.b";
  found.hint = "hint";
  CHECK(format(found, "one\ntwo two\n") ==
        "f.yaml:2:4: error: a.b: message; hint\n  1 | one\n  2 | two two\n    |    ^\n");
  found.is_warning = true;
  CHECK(format(found, "one\ntwo two\n").substr(0, 21) == "f.yaml:2:4: warning: ");
}

TEST_CASE("the caret counts characters, not bytes") {
  CHECK(format(at(1, 7), "± °C: x\n") == "f.yaml:1:7: error: message\n  1 | ± °C: x\n    |       ^\n");
}

TEST_CASE("wide characters take two columns, combining ones none") {
  CHECK(display_width("a漢字b", 4) == 6);
  CHECK(display_width("e\u0301x", 3) == 2);
  CHECK(display_width("ab", 5) == 5);
}

TEST_CASE("a caret at the end of a line, and one at the end of the file") {
  CHECK(format(at(1, 4), "abc") == "f.yaml:1:4: error: message\n  1 | abc\n    |    ^\n");
  CHECK(format(at(9, 1), "abc") == "f.yaml:9:1: error: message\n");
}

TEST_CASE("a long line is cut around the caret") {
  const std::string text = std::string(300, 'a') + "X" + std::string(300, 'b');
  const std::string shown = format(at(1, 301), text);
  const std::size_t caret = shown.find('^') - shown.rfind('\n', shown.find('^'));
  const std::size_t marked = shown.find('X') - shown.rfind('\n', shown.find('X'));
  CHECK(caret == marked);
  CHECK(shown.find("...") != std::string::npos);
  CHECK(shown.size() < 300);
}

TEST_CASE("what can't be printed is shown as a question mark, a tab as a space") {
  CHECK(format(at(1, 1), "a\tb\x01\xFF") == "f.yaml:1:1: error: message\n  1 | a b??\n    | ^\n");
}

TEST_CASE("a conflict shows both places") {
  Diagnostic found = at(2, 1);
  found.other_line = 1;
  found.other_column = 1;
  found.other_note = "first";
  CHECK(format(found, "a\nb\n") ==
        "f.yaml:2:1: error: message\n  1 | a\n  2 | b\n    | ^\nf.yaml:1:1: note: first\n  1 | a\n    | ^\n");
}
