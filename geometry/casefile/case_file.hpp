// A case file, read: the case, and everything that had to be assumed.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"

namespace tuft::casefile {

/// A value that the file did not state. Key path as in the file ("vents.base-grille.cover.hole").
struct Assumption {
  std::string key;
  std::string value;     ///< as a person would write it, with unit and spread
  std::string sentence;  ///< why this value: its class of things, or its source
};

/// What is wrong with a file, and where. Line and column start at 1.
struct Diagnostic {
  std::string file;
  int line = 0, column = 0;
  std::string key;      ///< path of the key, may be empty
  std::string message;  ///< what was found and what is allowed
  std::string hint;     ///< nearest known word or what to do; may be empty
  bool is_warning = false;
  int other_line = 0;  ///< second place of a conflict, or 0
  int other_column = 0;
  std::string other_note;  ///< what stands at the second place ("first written here")
};

struct CaseFile {
  geometry::Case content;
  std::vector<geometry::Spot> spots;  ///< where an infrared thermometer is pointed; no part of the device
  std::vector<Assumption> assumptions;
  std::vector<Assumption>
      laws;  ///< how far the laws of the model may be wrong, where the file does not say it
  std::vector<std::string> expected;  ///< key paths of what is unusual and confirmed
  std::string path;                   ///< as given by the caller
  std::string text;                   ///< the whole file
};

/// Result of reading: `errors` empty means `file` is complete and consistent.
struct ReadResult {
  CaseFile file;
  std::vector<Diagnostic> errors;
  std::vector<Diagnostic> warnings;
};

/// Reads and checks a case file. All problems of the file are found in one go where they do not hide each
/// other. Never throws for anything a file can contain; a file that cannot be opened is a diagnostic at line
/// 0.
ReadResult read_case(const std::string& path);

/// The same from text already in memory; `path` is used in messages only.
ReadResult read_case_text(const std::string& text, const std::string& path);

/// The message as shown to a person: file:line:column, key path, found, allowed, and the excerpt with a
/// caret.
std::string format(const Diagnostic& diagnostic, const std::string& text);

}  // namespace tuft::casefile
