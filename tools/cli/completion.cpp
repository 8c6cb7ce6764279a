// tuft completion: a script with which a shell completes commands, options and file names.
#include <CLI/CLI.hpp>
#include <memory>

#include "tools/io/utf8.hpp"
#include "tools/cli/commands.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/describe.hpp"

namespace tuft::program {
namespace {

ExitStatus completion(const CLI::App& app, const std::string& shell) {
  const start::Program program = describe(app);
  if (shell == "bash") {
    say(start::bash_completion(program));
  } else if (shell == "fish") {
    say(start::fish_completion(program));
  } else if (shell == "zsh") {
    say(start::zsh_completion(program));
  } else {
    throw Failure(ExitStatus::bad_input, "there is no completion for '" + output::printable(shell) +
                                             "'; there are: bash, fish, zsh");
  }
  return ExitStatus::good;
}

}  // namespace

void add_completion(CLI::App& app, ExitStatus& status) {
  auto shell = std::make_shared<std::string>();
  CLI::App* command =
      app.add_subcommand("completion", "A script that completes commands and options in a shell");
  command->add_option("SHELL", *shell, "Which shell")->required()->type_name("{bash,fish,zsh}");
  command->footer(
      "Examples:\n  source <(tuft completion bash)\n"
      "  tuft completion zsh > ~/.zfunc/_tuft\n"
      "  tuft completion fish > ~/.config/fish/completions/tuft.fish");
  command->callback([&app, shell, &status] { status = completion(app, *shell); });
}

}  // namespace tuft::program
