// Runs the built program on a terminal of its own, or in the background.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "tests/program/program.hpp"

namespace tuft::test {

/// Runs tuft on a pseudo-terminal, with more environment variables, and types the text there; a "\x04" is
/// Ctrl-D. `out` is all that was shown.
Outcome type_to_tuft(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
                     const std::string& typed, const std::map<std::string, std::string>& environment = {});

/// tuft running in the background; ended by SIGINT at the latest when this goes.
class RunningTuft {
 public:
  RunningTuft(const std::vector<std::string>& arguments, const std::filesystem::path& folder);
  ~RunningTuft();
  RunningTuft(const RunningTuft&) = delete;
  RunningTuft& operator=(const RunningTuft&) = delete;

  /// Waits until standard output and error together hold the text, counted from where the last call ended;
  /// false after half a minute.
  bool shows(const std::string& text);
  /// All that was shown.
  std::string shown() const;
  /// Sends SIGINT and waits; the exit status, -1 if a signal ended it.
  int interrupt();

 private:
  pid_t child_ = -1;
  int status_ = -1;
  std::filesystem::path log_;
  std::size_t seen_ = 0;
};

}  // namespace tuft::test
