// results.json as the report reads it back.
#pragma once

#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>

namespace tuft::report {

/// The text is no results file this version can show. The message is for a person.
class ResultsError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Parses results.json, with its keys in their order. Throws ResultsError when it is no JSON, no results file
/// of the program, of another version, or lacks what a page needs: tells which key.
nlohmann::ordered_json read_results(const std::string& text);

/// The same for a results file of any command: format and version alone are looked at.
nlohmann::ordered_json read_any_results(const std::string& text);

}  // namespace tuft::report
