#include "tools/cli/command_tree.hpp"

namespace tuft::start {
namespace {

std::string in_quotes(const std::string& text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c == '\n' ? ' ' : c;
  }
  return out + "'";
}

std::string when(const std::string& command) {
  return command.empty() ? "__fish_use_subcommand" : "__fish_seen_subcommand_from " + command;
}

std::string value(const Option& option) {
  switch (option.kind) {
    case ValueKind::none:
      return "";
    case ValueKind::words: {
      std::string words;
      for (const std::string& word : option.words) words += (words.empty() ? "" : " ") + word;
      return " -x -a " + in_quotes(words);
    }
    case ValueKind::file:
      return " -r -F";
    case ValueKind::folder:
      return " -x -a '(__fish_complete_directories)'";
    case ValueKind::other:
      return " -x";
  }
  return "";
}

std::string line(const std::string& start, const Option& option) {
  std::string names;
  if (option.is_place) {
    if (option.kind == ValueKind::file) return start + " -k -a '(__fish_complete_suffix .yaml)'\n";
    return option.kind == ValueKind::words ? start + value(option) + "\n" : "";
  }
  for (const std::string& name : option.names) {
    names += name.rfind("--", 0) == 0 ? " -l " + name.substr(2) : " -s " + name.substr(1);
  }
  return start + names + value(option) + " -d " + in_quotes(option.description) + "\n";
}

}  // namespace

std::string fish_completion(const Program& program) {
  const std::string start = "complete -c " + program.name;
  std::string text =
      "# Completion of " + program.name + " for fish; written by `tuft completion fish`.\n" + start + " -f\n";
  for (const Option& option : program.options) text += line(start + " -n " + when(""), option);
  for (const Command& command : program.commands) {
    text +=
        start + " -n " + when("") + " -a " + command.name + " -d " + in_quotes(command.description) + "\n";
    for (const Option& option : command.options) {
      text += line(start + " -n " + in_quotes(when(command.name)), option);
    }
  }
  return text;
}

}  // namespace tuft::start
