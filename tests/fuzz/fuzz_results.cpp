// results.json of any bytes: shown, or refused in plain words.
#include "tests/fuzz/fuzz.hpp"
#include "tools/page/results_file.hpp"

using namespace tuft;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string text = fuzz::text_of(bytes, size);
  const auto refused = [&](const auto& read) {
    try {
      read();
    } catch (const page::ResultsError& error) {
      fuzz::expect(*error.what() != '\0', "a message without words");
    }
  };
  refused([&] { page::read_results(text); });
  refused([&] { page::read_any_results(text); });
  refused([&] { page::with_sections(text, text, [](const std::string&) { return std::string("<svg/>"); }); });
  return 0;
}
