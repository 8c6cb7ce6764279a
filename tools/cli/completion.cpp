// tuft completion and tuft man: the command line, described to a shell that completes it, and as the manual
// page.
#include <CLI/CLI.hpp>
#include <memory>

#include "tools/cli/command_tree.hpp"
#include "tools/cli/options.hpp"

namespace tuft::cli {
namespace {

// "{bash,fish,zsh}" in a type name: the words that are allowed.
std::vector<std::string> words_in(const std::string& type) {
  const std::size_t open = type.find('{'), close = type.find('}');
  std::vector<std::string> words;
  if (open == std::string::npos || close == std::string::npos) return words;
  for (std::size_t from = open + 1; from <= close;) {
    const std::size_t end = std::min(type.find(',', from), close);
    words.push_back(type.substr(from, end - from));
    from = end + 1;
  }
  return words;
}

ValueKind kind_of(const Option& option, bool takes_value) {
  if (!takes_value) return ValueKind::none;
  if (!option.words.empty()) return ValueKind::words;
  if (option.value == "DIR" || option.value == "FOLDER") return ValueKind::folder;
  if (option.is_place && option.names.front() == "CASE") return ValueKind::file;
  return ValueKind::other;
}

Option describe_option(const CLI::Option& option) {
  Option result;
  result.is_place = option.get_positional();
  for (const std::string& name : option.get_snames()) result.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) result.names.push_back("--" + name);
  if (result.is_place) result.names = {option.get_name(true)};
  result.description = option.get_description();
  result.words = words_in(option.get_type_name());
  const bool takes_value = option.get_items_expected_max() > 0;
  if (takes_value && !result.is_place) result.value = result.words.empty() ? option.get_type_name() : "WORD";
  result.kind = kind_of(result, takes_value);
  result.required = option.get_required();
  result.repeats = takes_value && option.get_expected_max() > 1;
  return result;
}

std::string completion(const CLI::App& program, const std::string& shell) {
  if (shell == "bash") return bash_completion(program);
  if (shell == "fish") return fish_completion(program);
  if (shell == "zsh") return zsh_completion(program);
  refuse("there is no completion for '" + shell + "'; there are: bash, fish, zsh");
}

}  // namespace

std::vector<Option> options_of(const CLI::App& app) {
  std::vector<Option> options;
  for (const CLI::Option* option : app.get_options()) options.push_back(describe_option(*option));
  return options;
}

void add_completion(CLI::App& app, ExitStatus& /*good*/) {
  auto shell = std::make_shared<std::string>();
  CLI::App& command =
      add_command(app, "completion", "A script that completes commands and options in a shell",
                  "Examples:\n  source <(tuft completion bash)\n"
                  "  tuft completion zsh > ~/.zfunc/_tuft\n"
                  "  tuft completion fish > ~/.config/fish/completions/tuft.fish",
                  [&app, shell] { say(completion(app, *shell)); });
  command.add_option("SHELL", *shell, "Which shell")->required()->type_name("{bash,fish,zsh}");
}

void add_man(CLI::App& app, ExitStatus& /*good*/) {
  add_command(app, "man", "The manual page, for man to show", "Example:\n  tuft man | man -l -",
              [&app] { say(manual_page(app)); });
}

}  // namespace tuft::cli
