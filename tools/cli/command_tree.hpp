// The options of the command line as plain data: what completion and the manual page are written from.
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

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

/// Those of the program or of one command, as the parser was told.
std::vector<Option> options_of(const CLI::App& app);

/// Scripts that complete commands, options and file names in a shell.
std::string bash_completion(const CLI::App& program);
std::string zsh_completion(const CLI::App& program);
std::string fish_completion(const CLI::App& program);

/// The manual page, section 1, in the macros of man(7).
std::string manual_page(const CLI::App& program);

}  // namespace tuft::cli
