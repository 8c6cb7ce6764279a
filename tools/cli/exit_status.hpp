// What the program tells the shell, and the one way a command fails.
#pragma once

#include <stdexcept>
#include <string>

namespace tuft::program {

/// Exit status. Scripts rely on the numbers.
enum class ExitStatus {
  good = 0,
  claim_fails = 1,  ///< check: at least one claim fails
  cannot_tell = 2,  ///< check: none fails, at least one can't be told
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

}  // namespace tuft::program
