#include "tools/cli/console.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

#include "tools/io/utf8.hpp"
#include "tools/cli/exit_status.hpp"

namespace tuft::program {

void say(const std::string& text) {
  // Flushed each time, so that a full disk is noticed while it can still be told.
  const bool whole =
      std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
  if (!whole) {
    throw Failure(ExitStatus::output_not_written,
                  std::string("cannot write to standard output: ") + std::strerror(errno));
  }
}

void complain(const std::string& text) {
  std::fflush(stdout);
  std::fwrite(text.data(), 1, text.size(), stderr);
}

void refuse(const std::string& message) { throw Failure(ExitStatus::bad_input, output::printable(message)); }

output::Look look() { return output::look_of(STDOUT_FILENO); }

}  // namespace tuft::program
