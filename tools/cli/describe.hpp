// The command line as the parser knows it, as plain data.
#pragma once

#include "tools/cli/command_tree.hpp"

namespace CLI {
class App;
}

namespace tuft::program {

/// Everything the parser was told: commands, options, descriptions, footers.
start::Program describe(const CLI::App& app);

}  // namespace tuft::program
