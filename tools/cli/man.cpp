// tuft man: the manual page.
#include <CLI/CLI.hpp>

#include "tools/cli/commands.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/describe.hpp"

namespace tuft::program {

void add_man(CLI::App& app, ExitStatus& status) {
  CLI::App* command = app.add_subcommand("man", "The manual page, for man to show");
  command->footer("Example:\n  tuft man | man -l -");
  command->callback([&app, &status] {
    say(start::manual_page(describe(app)));
    status = ExitStatus::good;
  });
}

}  // namespace tuft::program
