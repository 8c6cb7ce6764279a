// What the tests of the ensemble share: cases from files and text, and samples as bytes.
#pragma once

#include <stdexcept>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/ensemble.hpp"

namespace tuft::study::test {

inline geometry::Case good(const casefile::ReadResult& read) {
  std::string said;
  for (const auto& error : read.errors) said += casefile::format(error, read.file.text);
  if (!said.empty()) throw std::runtime_error(said);
  return read.file.content;
}

/// A case file of the tree.
inline geometry::Case case_of(const std::string& path) {
  return good(casefile::read_case(std::string(TUFT_SOURCE_DIR) + "/" + path));
}

/// A box with a blower, two vents and a chip; `more` is put after it. Its laws are exact unless `laws` says
/// else.
inline geometry::Case box(const std::string& more, const std::string& laws = "laws: exact\n") {
  return good(
      casefile::read_case_text("tuft: 1\n"
                               "device: {name: Box, size: [200 mm, 100 mm, 20 mm], feet: 2 mm}\n"
                               "room: {temperature: 21 °C, altitude: 0 m, humidity: 40 %, draught: still}\n"
                               "leaks: {}\n" +
                                   laws + more,
                               "box.yaml"));
}

/// The condition of this name.
int condition_of(const geometry::Case& content, const std::string& name);

/// Everything of a sample as bytes, to be compared.
std::string bytes_of(const Ensemble& ensemble);

}  // namespace tuft::study::test
