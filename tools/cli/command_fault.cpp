#include "tools/cli/command_fault.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <vector>

#include "geometry/casefile/nearest.hpp"

namespace tuft::program {
namespace {

std::vector<std::string> command_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands({})) names.push_back(command->get_name());
  return names;
}

std::vector<std::string> option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    for (const std::string& name : option->get_snames()) names.push_back("-" + name);
  }
  return names;
}

const CLI::App* command_of(const CLI::App& app, const std::string& name) {
  for (const CLI::App* command : app.get_subcommands({})) {
    if (command->get_name() == name) return command;
  }
  return nullptr;
}

std::string with_help(const std::string& fault, const CLI::App* command) {
  const char* joint = fault.back() == '?' ? " " : "; ";
  return fault + joint + "tuft " + (command == nullptr ? std::string() : command->get_name() + " ") +
         "--help says more";
}

// Commands that know an option which the one at hand does not.
std::string where_known(const CLI::App& app, const std::string& option) {
  std::vector<std::string> owners;
  for (const CLI::App* command : app.get_subcommands({})) {
    if (casefile::contains(option_names(*command), option)) owners.push_back(command->get_name());
  }
  return owners.empty() ? "" : "it is an option of " + casefile::listed(owners);
}

bool is_case_file(const std::string& word) {
  const std::size_t dot = word.rfind('.');
  return dot != std::string::npos && (word.substr(dot) == ".yaml" || word.substr(dot) == ".yml");
}

std::string no_such_command(const CLI::App& app, const std::string& word) {
  if (is_case_file(word))
    return "'" + word + "' is no command; the command stands before the case file: tuft predict " + word;
  const std::vector<std::string> known = command_names(app);
  const std::string hint = casefile::did_you_mean(word, known);
  return "there is no command '" + word + "'; " +
         (hint.empty() ? "there are: " + casefile::listed(known) : hint);
}

std::string no_such_option(const CLI::App& app, const CLI::App* command, const std::string& option) {
  const std::string who = command == nullptr ? "tuft" : command->get_name();
  const std::vector<std::string> known = option_names(command == nullptr ? app : *command);
  std::string hint = casefile::did_you_mean(option, known);
  if (hint.empty()) hint = where_known(app, option);
  if (hint.empty()) hint = "there are: " + casefile::listed(known);
  return with_help(who + " has no option '" + option + "'; " + hint, command);
}

// The first word that looks like an option and is none of the command's; empty: there is no such word.
std::string unknown_option(const CLI::App& command, const std::vector<std::string>& words) {
  const std::vector<std::string> known = option_names(command);
  for (const std::string& word : words) {
    if (word == "--") break;
    if (word.size() < 2 || word[0] != '-') continue;
    const std::string option = word.substr(0, word.find('='));
    const bool exact = std::find(known.begin(), known.end(), option) != known.end();
    const bool number = option.find_first_not_of("-.0123456789") == std::string::npos;
    if (!exact && !number) return option;
  }
  return "";
}

std::string missing(const CLI::App& command) {
  for (const CLI::Option* option : command.get_options()) {
    if (!option->get_required() || option->count() > 0) continue;
    return command.get_name() + " needs " + option->get_name() + ": " + option->get_description();
  }
  return "";
}

// Words left over once all places are filled; the parser names them behind a colon.
std::string extra_word(const CLI::App& command, const std::string& message) {
  const std::size_t colon = message.find(": ");
  if (colon == std::string::npos) return "";
  return command.get_name() + " does not know what to do with '" + message.substr(colon + 2) + "'";
}

// A name behind an option that takes it with an equals sign alone, since a bare word there is the case file.
std::string apart_from_its_option(const CLI::App& command, const std::vector<std::string>& words) {
  for (std::size_t i = 0; i + 1 < words.size(); ++i) {
    if (words[i] != "--details" || command.get_option_no_throw("--details") == nullptr) continue;
    const std::string& name = words[i + 1];
    if (!name.empty() && name[0] != '-' && !is_case_file(name))
      return "a name is joined to --details by an equals sign: --details=" + name;
  }
  return "";
}

// An option without its value.
std::string without_value(const CLI::App& command, const std::string& message) {
  for (const CLI::Option* option : command.get_options()) {
    const std::string name = option->get_name();
    if (message.rfind(name + ":", 0) == 0 && option->get_items_expected_min() > 0)
      return name + " needs a value: " + option->get_description();
  }
  return "";
}

}  // namespace

std::string command_fault(const CLI::App& app, const CLI::ParseError& error, int argc, char** argv) {
  const std::vector<std::string> words(argv + std::min(argc, 1), argv + argc);
  const CLI::App* command = command_of(app, words.front());
  if (command == nullptr) {
    return words.front()[0] == '-' ? no_such_option(app, nullptr, words.front())
                                   : no_such_command(app, words.front());
  }
  const std::vector<std::string> rest(words.begin() + 1, words.end());
  const std::string option = unknown_option(*command, rest);
  if (!option.empty()) return no_such_option(app, command, option);
  std::string fault;
  if (error.get_name() == "RequiredError") fault = missing(*command);
  if (std::string(error.what()).rfind("The following argument", 0) == 0)
    fault = apart_from_its_option(*command, rest);
  if (fault.empty() && std::string(error.what()).rfind("The following argument", 0) == 0)
    fault = extra_word(*command, error.what());
  if (error.get_name() == "ArgumentMismatch") fault = without_value(*command, error.what());
  if (fault.empty()) fault = error.what();
  return with_help(fault, command);
}

}  // namespace tuft::program
