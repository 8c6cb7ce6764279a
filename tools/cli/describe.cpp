#include "tools/cli/describe.hpp"

#include <CLI/CLI.hpp>

namespace tuft::program {
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

start::ValueKind kind_of(const start::Option& option, bool takes_value) {
  if (!takes_value) return start::ValueKind::none;
  if (!option.words.empty()) return start::ValueKind::words;
  if (option.value == "DIR" || option.value == "FOLDER") return start::ValueKind::folder;
  if (option.is_place && option.names.front() == "CASE") return start::ValueKind::file;
  return start::ValueKind::other;
}

start::Option describe_option(const CLI::Option& option) {
  start::Option result;
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

std::vector<start::Option> options_of(const CLI::App& app) {
  std::vector<start::Option> options;
  for (const CLI::Option* option : app.get_options()) options.push_back(describe_option(*option));
  return options;
}

}  // namespace

start::Program describe(const CLI::App& app) {
  start::Program program{app.get_name(),   TUFT_VERSION,    app.get_description(),
                         app.get_footer(), options_of(app), {}};
  for (const CLI::App* command : app.get_subcommands({})) {
    program.commands.push_back(
        {command->get_name(), command->get_description(), command->get_footer(), options_of(*command)});
  }
  return program;
}

}  // namespace tuft::program
