// Runs the built program the way a shell would.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace tuft::test {

/// What a run of the program left.
struct Outcome {
  int status = -1;       ///< exit status; -1 if a signal ended it
  std::string out, err;  ///< standard output and error
};

/// Runs tuft with arguments in a folder, with more environment variables. `out_file`: where standard output
/// goes instead of `Outcome::out`. `program`: a copy to run instead of the one built.
Outcome run_tuft(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
                 const std::map<std::string, std::string>& environment = {}, const std::string& out_file = "",
                 const std::filesystem::path& program = {});

/// Runs a line of the shell, in which "$0" is the program.
Outcome in_shell(const std::string& line, const std::filesystem::path& folder);

/// Path of a case file of these tests.
std::string case_path(const std::string& name);

}  // namespace tuft::test
