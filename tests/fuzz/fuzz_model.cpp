// The model of a case as JSON, of any bytes: refused with the place, or a case that writes itself alike.
#include "tests/fuzz/fuzz.hpp"
#include "tools/io/case_json.hpp"

using namespace tuft;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  try {
    const geometry::Case content = io::case_of_text(fuzz::text_of(bytes, size));
    const io::Json once = io::case_json(content);
    fuzz::expect(io::case_json(io::case_of(once)) == once, "a model that is read back is another");
  } catch (const io::ModelError& error) {
    fuzz::expect(*error.what() != '\0', "a message without words");
  }
  return 0;
}
