// How the program meets its surroundings: exit status and the one way a command fails, where commands write
// for a person, and where the program lies.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "tools/io/grid.hpp"

namespace tuft::cli {

/// Exit status. Scripts rely on the numbers.
enum class ExitStatus {
  good = 0,
  claim_fails = 1,  ///< check: at least one claim fails
  undecided = 2,    ///< check: none fails, at least one is undecided
  bad_input = 3,    ///< the case file or the command line
  no_solution = 4,  ///< a requested condition has no solution
  output_not_written = 5
};

/// A command cannot go on; the message is shown to the person as it is.
class Failure : public std::runtime_error {
 public:
  Failure(ExitStatus status, const std::string& message) : std::runtime_error(message), status_(status) {}
  ExitStatus status() const { return status_; }

 private:
  ExitStatus status_;
};

/// Writes to standard output. Throws Failure (output_not_written) when it does not take every byte.
void say(const std::string& text);

/// Writes words filled to the width of standard output, the first line behind a margin.
void say_filled(const std::string& words, const std::string& margin = "");

/// Writes to standard error, as printable lines; what fails there cannot be told anybody.
void complain(const std::string& text);

/// Writes over the line of standard error, which is a terminal; an empty one leaves nothing there.
void write_over(const std::string& line);

/// Throws Failure (bad_input) with a message for the person.
[[noreturn]] void refuse(const std::string& message);

/// The same for a word that is none of those known: the fault, and what may have been meant (a hint) or what
/// there is.
[[noreturn]] void refuse_unknown(const std::string& fault, const std::string& hint,
                                 const std::vector<std::string>& known,
                                 const std::string& lead = "there are: ");

/// The look of standard output.
io::Look look();

/// The program's own file; empty when the system does not tell.
std::filesystem::path own_file();

/// The JSON Schema of case files that came with the program: installed beside it, or in the source tree it
/// was built in. Empty when there is none.
std::filesystem::path schema_file();

/// The engine for pages, beside the program; empty when there is none that can be used, and then a line on
/// standard error says why, and how to get one.
std::string engine_for_page();

/// A path as a file: URI, with everything but plain signs encoded.
std::string file_uri(const std::filesystem::path& path);

}  // namespace tuft::cli
