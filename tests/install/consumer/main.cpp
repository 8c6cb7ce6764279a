// Reads a case, solves its first condition, and prints the roles: the library as somebody else would use it.
#include <iostream>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  const tuft::casefile::ReadResult read = tuft::casefile::read_case(argv[1]);
  for (const auto& error : read.errors) std::cerr << tuft::casefile::format(error, read.file.text);
  if (!read.errors.empty()) return 3;
  const tuft::study::ConditionResult result = tuft::study::predict(read.file.content, 0);
  if (!result.report.converged) return 4;
  for (const auto& vent : result.vents) {
    std::cout << read.file.content.device.vents[static_cast<std::size_t>(vent.vent)].name << " "
              << tuft::geometry::role_word(vent.role) << "\n";
  }
  return 0;
}
