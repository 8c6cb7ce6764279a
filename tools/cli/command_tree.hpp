// The command line as plain data: what completion and the manual page are written from.
#pragma once

#include <string>
#include <vector>

namespace tuft::cli {

/// What stands after an option, or in a place.
enum class ValueKind {
  none,    ///< nothing: a flag
  words,   ///< one of `Option::words`
  file,    ///< a case file
  folder,  ///< a folder
  other    ///< a name or number that only the case knows
};

/// An option, or a place for a word ("CASE").
struct Option {
  std::vector<std::string> names;  ///< "-h", "--help"; of a place its name alone, without hyphens
  std::string description;
  std::string value;  ///< what stands for the value in help: "DIR"; empty for flags and places
  ValueKind kind = ValueKind::none;
  std::vector<std::string> words;  ///< allowed, ValueKind::words
  bool is_place = false;           ///< known by where it stands
  bool required = false;
  bool repeats = false;  ///< may be given several times
};

/// A command.
struct Command {
  std::string name, description, footer;
  std::vector<Option> options;
};

/// The program.
struct Program {
  std::string name, version, description, footer;
  std::vector<Option> options;
  std::vector<Command> commands;
};

/// Scripts that complete commands, options and file names in a shell.
std::string bash_completion(const Program& program);
std::string zsh_completion(const Program& program);
std::string fish_completion(const Program& program);

/// The manual page, section 1, in the macros of man(7).
std::string manual_page(const Program& program);

}  // namespace tuft::cli
