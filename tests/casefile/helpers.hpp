// What the tests of the case file share: a small good case to change, and ways to look at the outcome.
#pragma once

#include <fstream>
#include <sstream>
#include <string>

#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/starter.hpp"

namespace tuft::casefile::test {

inline std::string file_text(const std::string& path) {
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream out;
  out << stream.rdbuf();
  return out.str();
}

inline std::string full_case() {
  return file_text(std::string(TUFT_SOURCE_DIR) + "/tests/casefile/full.yaml");
}

/// A device with every way for heat.
inline std::string heat_case() {
  return file_text(std::string(TUFT_SOURCE_DIR) + "/tests/casefile/heat.yaml");
}

/// A box of 200 x 100 x 20 mm with a vent on either side; `more` is put after it.
inline std::string small_case(const std::string& more = "") {
  return "tuft: 1\n"
         "device: {name: Box, size: [200 mm, 100 mm, 20 mm]}\n"
         "vents:\n"
         "  in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: open}\n"
         "  out: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: open}\n" +
         more;
}

/// The same box in two zones that touch at x = 80 mm.
inline std::string two_zones(const std::string& more = "") {
  return small_case(
             "zones:\n"
             "  bay: {from: [0 mm, 0 mm, 0 mm], to: [80 mm, 100 mm, 20 mm]}\n"
             "  board: {from: [200 mm, 100 mm, 20 mm], to: [80 mm, 0 mm, 0 mm]}\n"
             "passages:\n"
             "  door: {between: [bay, board], size: [60 mm, 10 mm]}\n") +
         more;
}

/// What a slim notebook of this name begins with.
inline std::string notebook_case(const std::string& name) {
  Starter starter = starter_of(StarterClass::slim_notebook);
  starter.name = name;
  return starter_case(starter);
}

inline ReadResult read(const std::string& text) { return read_case_text(text, "case.yaml"); }

/// All messages, for matching and for seeing what went wrong.
inline std::string messages(const ReadResult& result) {
  std::string out;
  for (const Diagnostic& error : result.errors) out += format(error, result.file.text);
  for (const Diagnostic& warning : result.warnings) out += format(warning, result.file.text);
  return out;
}

/// The assumption made for a key, or one with an empty key.
inline Assumption assumed(const ReadResult& result, const std::string& key) {
  for (const Assumption& assumption : result.file.assumptions) {
    if (assumption.key == key) return assumption;
  }
  return {};
}

/// "line:column message" of the first error, or empty.
inline std::string first_error(const std::string& text) {
  const ReadResult result = read(text);
  if (result.errors.empty()) return "";
  const Diagnostic& error = result.errors.front();
  return std::to_string(error.line) + ":" + std::to_string(error.column) + " " + error.message +
         (error.hint.empty() ? "" : "; " + error.hint);
}

}  // namespace tuft::casefile::test
