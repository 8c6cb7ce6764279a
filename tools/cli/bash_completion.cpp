#include "tools/cli/command_tree.hpp"

namespace tuft::start {
namespace {

std::string joined(const std::vector<std::string>& words, const char* between) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : between) + word;
  return text;
}

std::string names_of(const std::vector<Option>& options) {
  std::string text;
  for (const Option& option : options) {
    if (!option.is_place) text += (text.empty() ? "" : " ") + joined(option.names, " ");
  }
  return text;
}

std::string reply(const Option& option) {
  switch (option.kind) {
    case ValueKind::words:
      return "COMPREPLY=($(compgen -W '" + joined(option.words, " ") + "' -- \"$cur\"))";
    case ValueKind::file:
      return "_tuft_files";
    case ValueKind::folder:
      return "COMPREPLY=($(compgen -d -- \"$cur\"))";
    case ValueKind::none:
    case ValueKind::other:
      break;
  }
  return "COMPREPLY=()";
}

// What may follow an option that takes a value.
std::string values_of(const Command& command) {
  std::string text;
  for (const Option& option : command.options) {
    if (option.is_place || option.kind == ValueKind::none) continue;
    text += "        " + joined(option.names, "|") + ") " + reply(option) + "; return ;;\n";
  }
  return text.empty() ? "" : "      case \"$prev\" in\n" + text + "      esac\n";
}

std::string places_of(const Command& command) {
  for (const Option& option : command.options) {
    if (option.is_place) return reply(option);
  }
  return "COMPREPLY=()";
}

std::string branch(const Command& command) {
  return "    " + command.name + ")\n" + values_of(command) +
         "      if [[ $cur == -* ]]; then\n        COMPREPLY=($(compgen -W '" + names_of(command.options) +
         "' -- \"$cur\"))\n      else\n        " + places_of(command) + "\n      fi ;;\n";
}

}  // namespace

std::string bash_completion(const Program& program) {
  std::vector<std::string> commands;
  std::string branches;
  for (const Command& command : program.commands) {
    commands.push_back(command.name);
    branches += branch(command);
  }
  return "# Completion of " + program.name +
         " for bash; written by `tuft completion bash`.\n"
         "# Case files, and the folders on the way to them.\n"
         "_tuft_files() {\n  local IFS=$'\\n'\n"
         "  COMPREPLY=($(compgen -f -X '!*.yaml' -- \"$cur\") $(compgen -f -X '!*.yml' -- \"$cur\")\n"
         "    $(compgen -d -- \"$cur\"))\n"
         "  type compopt &>/dev/null && compopt -o filenames 2>/dev/null\n}\n\n"
         "_tuft() {\n  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]}\n"
         "  COMPREPLY=()\n  if [[ $COMP_CWORD -eq 1 ]]; then\n    COMPREPLY=($(compgen -W '" +
         joined(commands, " ") + " " + names_of(program.options) +
         "' -- \"$cur\"))\n    return\n  fi\n  case ${COMP_WORDS[1]} in\n" + branches +
         "  esac\n}\n\ncomplete -F _tuft " + program.name + "\n";
}

}  // namespace tuft::start
