// From bytes to results: a case file that reads is solved, its results hold what must be true of any, and its
// model is written and read back.
#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"
#include "tests/fuzz/fuzz.hpp"
#include "tests/random/invariants.hpp"
#include "tools/io/solution_json.hpp"

using namespace tuft;

namespace {

// So that an input takes milliseconds: what takes long is found by other tests.
constexpr std::size_t kMostVents = 16, kMostConditions = 2;

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const casefile::ReadResult read = casefile::read_case_text(fuzz::text_of(bytes, size), "case.yaml");
  if (!read.errors.empty()) return 0;
  const geometry::Case& content = read.file.content;
  if (content.device.vents.size() > kMostVents) return 0;
  for (std::size_t c = 0; c < std::min(kMostConditions, content.conditions.size()); ++c) {
    const study::ConditionResult result =
        study::predict(content, static_cast<int>(c), study::StateSearch::none);
    for (const std::string& fault : test::faults_of(content, result)) fuzz::fail(fault);
    io::Json json;
    io::add_solution(json, content, result);
    fuzz::expect(json.dump().find("null,null,null,null") == std::string::npos, "results without numbers");
  }
  const io::Json model = io::case_json(content);
  fuzz::expect(io::case_json(io::case_of(model)) == model, "a model that is read back is another");
  return 0;
}
