// Scripts that complete commands, options and file names in a shell.
#include <CLI/CLI.hpp>

#include "tools/cli/command_tree.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

using io::joined;

std::string names_of(const std::vector<Option>& options) {
  std::string text;
  for (const Option& option : options)
    if (!option.is_place) text += (text.empty() ? "" : " ") + joined(option.names, " ");
  return text;
}

std::string reply(const Option& option) {
  if (option.kind == ValueKind::words)
    return "COMPREPLY=($(compgen -W '" + joined(option.words, " ") + "' -- \"$cur\"))";
  if (option.kind == ValueKind::file) return "_tuft_files";
  return option.kind == ValueKind::folder ? "COMPREPLY=($(compgen -d -- \"$cur\"))" : "COMPREPLY=()";
}

// What may follow an option that takes a value.
std::string values_of(const std::vector<Option>& options) {
  std::string text;
  for (const Option& option : options) {
    if (option.is_place || option.kind == ValueKind::none) continue;
    text += "        " + joined(option.names, "|") + ") " + reply(option) + "; return ;;\n";
  }
  return text.empty() ? "" : "      case \"$prev\" in\n" + text + "      esac\n";
}

std::string places_of(const std::vector<Option>& options) {
  for (const Option& option : options)
    if (option.is_place) return reply(option);
  return "COMPREPLY=()";
}

std::string branch(const CLI::App& command) {
  const std::vector<Option> options = options_of(command);
  return "    " + command.get_name() + ")\n" + values_of(options) +
         "      if [[ $cur == -* ]]; then\n        COMPREPLY=($(compgen -W '" + names_of(options) +
         "' -- \"$cur\"))\n      else\n        " + places_of(options) + "\n      fi ;;\n";
}

}  // namespace

std::string bash_completion(const CLI::App& program) {
  std::vector<std::string> commands;
  std::string branches;
  for (const CLI::App* command : program.get_subcommands({})) {
    commands.push_back(command->get_name());
    branches += branch(*command);
  }
  return "# Completion of " + program.get_name() +
         " for bash; written by `tuft completion bash`.\n"
         "# Case files, and the folders on the way to them.\n"
         "_tuft_files() {\n  local IFS=$'\\n'\n"
         "  COMPREPLY=($(compgen -f -X '!*.yaml' -- \"$cur\") $(compgen -f -X '!*.yml' -- \"$cur\")\n"
         "    $(compgen -d -- \"$cur\"))\n"
         "  type compopt &>/dev/null && compopt -o filenames 2>/dev/null\n}\n\n"
         "_tuft() {\n  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]}\n"
         "  COMPREPLY=()\n  if [[ $COMP_CWORD -eq 1 ]]; then\n    COMPREPLY=($(compgen -W '" +
         joined(commands, " ") + " " + names_of(options_of(program)) +
         "' -- \"$cur\"))\n    return\n  fi\n  case ${COMP_WORDS[1]} in\n" + branches +
         "  esac\n}\n\ncomplete -F _tuft " + program.get_name() + "\n";
}

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
  if (option.kind == ValueKind::none) return "";
  if (option.kind == ValueKind::words) return " -x -a " + in_quotes(joined(option.words, " "));
  if (option.kind == ValueKind::file) return " -r -F";
  return option.kind == ValueKind::folder ? " -x -a '(__fish_complete_directories)'" : " -x";
}

std::string line(const std::string& start, const Option& option) {
  std::string names;
  if (option.is_place) {
    if (option.kind == ValueKind::file) return start + " -k -a '(__fish_complete_suffix .yaml)'\n";
    return option.kind == ValueKind::words ? start + value(option) + "\n" : "";
  }
  for (const std::string& name : option.names)
    names += name.rfind("--", 0) == 0 ? " -l " + name.substr(2) : " -s " + name.substr(1);
  return start + names + value(option) + " -d " + in_quotes(option.description) + "\n";
}

}  // namespace

std::string fish_completion(const CLI::App& program) {
  const std::string start = "complete -c " + program.get_name();
  std::string text = "# Completion of " + program.get_name() +
                     " for fish; written by `tuft completion fish`.\n" + start + " -f\n";
  for (const Option& option : options_of(program)) text += line(start + " -n " + when(""), option);
  for (const CLI::App* command : program.get_subcommands({})) {
    text += start + " -n " + when("") + " -a " + command->get_name() + " -d " +
            in_quotes(command->get_description()) + "\n";
    for (const Option& option : options_of(*command))
      text += line(start + " -n " + in_quotes(when(command->get_name())), option);
  }
  return text;
}

namespace {

// Within single quotes and within the brackets and colons of _arguments.
std::string escaped(const std::string& text, bool in_brackets) {
  std::string out;
  for (const char c : text) {
    if (c == '\'') {
      out += "'\\''";
    } else if (c == ':' || (in_brackets && (c == '[' || c == ']'))) {
      out += std::string("\\") + c;
    } else if (c == '\n') {
      out += ' ';
    } else {
      out += c;
    }
  }
  return out;
}

std::string action(const Option& option) {
  if (option.kind == ValueKind::words) return "(" + joined(option.words, " ") + ")";
  if (option.kind == ValueKind::file) return "_files -g \"*.(yaml|yml)\"";
  return option.kind == ValueKind::folder ? "_files -/" : " ";
}

std::string argument(const Option& option) {
  const std::string about = escaped(option.description, true);
  if (option.is_place)
    return " \\\n        '" + std::string(option.repeats ? "*" : "") + ":" +
           escaped(option.names.front(), true) + ":" + action(option) + "'";
  std::string text;
  for (const std::string& name : option.names) {
    text += " \\\n        '" + std::string(option.repeats ? "*" : "") + name + "[" + about + "]";
    if (option.kind != ValueKind::none) text += ":" + escaped(option.value, true) + ":" + action(option);
    text += "'";
  }
  return text;
}

std::string arguments(const std::vector<Option>& options) {
  std::string text = "_arguments";
  for (const Option& option : options) text += argument(option);
  return text;
}

}  // namespace

std::string zsh_completion(const CLI::App& program) {
  std::string commands, branches;
  for (const CLI::App* command : program.get_subcommands({})) {
    commands += "    '" + command->get_name() + ":" + escaped(command->get_description(), false) + "'\n";
    branches += "    " + command->get_name() + ")\n      " + arguments(options_of(*command)) + " ;;\n";
  }
  return "#compdef " + program.get_name() + "\n# Completion of " + program.get_name() +
         " for zsh; written by `tuft completion zsh`.\n_tuft() {\n  local -a commands\n  commands=(\n" +
         commands + "  )\n  if (( CURRENT == 2 )); then\n    _describe command commands\n    " +
         arguments(options_of(program)) +
         "\n    return\n  fi\n  local chosen=$words[2]\n  shift words\n  (( CURRENT-- ))\n"
         "  case $chosen in\n" +
         branches +
         "  esac\n}\n\n"
         "# Found by autoload it is the function's own body; sourced it has to be made known.\n"
         "if [[ $funcstack[1] == _tuft ]]; then\n  _tuft \"$@\"\nelse\n  compdef _tuft " +
         program.get_name() + "\nfi\n";
}

}  // namespace tuft::cli
