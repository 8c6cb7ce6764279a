// A case file of any bytes: a case without mistakes, or mistakes with their places within the text.
#include <algorithm>

#include "geometry/casefile/case_file.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace tuft;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string text = fuzz::text_of(bytes, size);
  const casefile::ReadResult read = casefile::read_case_text(text, "case.yaml");
  // A lone carriage return ends a line too.
  const auto lines =
      1 + std::count_if(text.begin(), text.end(), [](char c) { return c == '\n' || c == '\r'; });
  for (const auto* list : {&read.errors, &read.warnings})
    for (const casefile::Diagnostic& said : *list) {
      fuzz::expect(said.line >= 0 && said.line <= lines + 1, "a message is about a line that is not there");
      const std::string shown = casefile::format(said, read.file.text);
      fuzz::expect(!said.message.empty() && !shown.empty(), "a message without words");
      fuzz::expect(shown.find('\x1b') == std::string::npos, "a message hands on a control character");
    }
  return 0;
}
