// Where the reader puts what it finds wrong.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "geometry/casefile/text.hpp"

namespace tuft::casefile {

/// What is wrong with a file as a whole.
Diagnostic at_file(const std::string& path, const std::string& message);

/// Collects errors and warnings of one file, each at its place.
class Report {
 public:
  Report(std::string path, const std::string& text);

  /// Returns no value, for the reader of one to return.
  std::nullopt_t error(Spot spot, std::string key, const std::string& message, std::string hint = "");
  void warning(Spot spot, std::string key, const std::string& message, std::string hint = "");
  /// An error with two places: `spot` is where the message points, `other` what it is in conflict with.
  void conflict(Spot spot, std::string key, const std::string& message, Spot other, std::string other_note);

  bool has_errors() const { return !errors_.empty(); }
  std::size_t error_count() const { return errors_.size(); }
  /// True if an error was found in one of these sections of the file.
  bool has_errors_in(const std::vector<std::string>& sections) const;
  /// All errors, sorted by place, at most `kMaxReported`; likewise the warnings.
  std::vector<Diagnostic> errors() const;
  std::vector<Diagnostic> warnings() const;

  static constexpr std::size_t kMaxReported = 100;

 private:
  Diagnostic make(Spot spot, std::string key, const std::string& message, std::string hint) const;
  Spot clamped(Spot spot) const;

  std::string path_;
  std::vector<int> line_lengths_;  ///< characters of each line
  std::vector<Diagnostic> errors_, warnings_;
};

}  // namespace tuft::casefile
