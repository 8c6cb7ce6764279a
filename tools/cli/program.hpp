// The program: command line in, exit status out.
#pragma once

#include "tools/cli/exit_status.hpp"

namespace tuft::program {

/// Parses the command line, runs the command, and shows what went wrong on standard error.
ExitStatus run(int argc, char** argv);

}  // namespace tuft::program
