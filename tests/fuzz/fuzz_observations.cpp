// A file of observations of any bytes, about a case of the tree.
#include "geometry/casefile/observations.hpp"
#include "tests/fuzz/fuzz.hpp"

using namespace tuft;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  static const casefile::ReadResult about = casefile::read_case(TUFT_SOURCE_DIR "/cases/slim-notebook.yaml");
  static const casefile::KnownTools tools{{"tissue-60", "tissue-150"}, {"vane-16mm"}};
  const auto read =
      casefile::read_observations_text(fuzz::text_of(bytes, size), "seen.yaml", about.file, tools);
  for (const casefile::Diagnostic& said : read.errors)
    fuzz::expect(!casefile::format(said, read.text).empty(), "a message without words");
  for (const casefile::ObservationLine& line : read.lines)
    fuzz::expect(line.error >= 0.0 && line.reading == line.reading, "an observation that is no number");
  return 0;
}
