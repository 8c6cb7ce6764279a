// results.json as the report reads it back, and sections of other commands brought into it.
#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>

namespace tuft::page {

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

/// Reads a file that lies beside a results file, by the name it is listed under; throws whatever the caller's
/// way is when it cannot.
using ReadListed = std::function<std::string(const std::string&)>;

/// The results with what another results file of the same case adds: its sections `field`, `section`,
/// `bench`, `uncertainty`, `warmup`, as far as it has them, and its figures (listed files that end in .svg)
/// as `figures`: `section`, `file`, `svg`. Throws ResultsError when it is no results file, belongs to another
/// case (by its SHA-256), or adds nothing.
std::string with_sections(const std::string& results_text, const std::string& other_text,
                          const ReadListed& read);

}  // namespace tuft::page
