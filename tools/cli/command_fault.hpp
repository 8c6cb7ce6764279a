// What is wrong with a command line, for a person.
#pragma once

#include <string>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace tuft::program {

/// One sentence: what was found, what is allowed, and the command or option that may have been meant.
/// At least one word must follow the program's name.
std::string command_fault(const CLI::App& app, const CLI::ParseError& error, int argc, char** argv);

}  // namespace tuft::program
