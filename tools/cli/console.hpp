// Where commands write for a person.
#pragma once

#include <string>

#include "tools/io/grid.hpp"

namespace tuft::program {

/// Writes to standard output. Throws Failure (output_not_written) when it does not take every byte.
void say(const std::string& text);

/// Writes to standard error; what fails there cannot be told anybody.
void complain(const std::string& text);

/// Throws Failure (bad_input) with a message for the person.
[[noreturn]] void refuse(const std::string& message);

/// The look of standard output.
output::Look look();

}  // namespace tuft::program
