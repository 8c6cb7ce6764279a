#include "tools/cli/command_tree.hpp"

namespace tuft::start {
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
  switch (option.kind) {
    case ValueKind::words: {
      std::string text = "(";
      for (const std::string& word : option.words) text += (text.size() > 1 ? " " : "") + word;
      return text + ")";
    }
    case ValueKind::file:
      return "_files -g \"*.(yaml|yml)\"";
    case ValueKind::folder:
      return "_files -/";
    case ValueKind::none:
    case ValueKind::other:
      break;
  }
  return " ";
}

std::string argument(const Option& option) {
  const std::string about = escaped(option.description, true);
  if (option.is_place) {
    return " \\\n        '" + std::string(option.repeats ? "*" : "") + ":" +
           escaped(option.names.front(), true) + ":" + action(option) + "'";
  }
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

std::string zsh_completion(const Program& program) {
  std::string commands, branches;
  for (const Command& command : program.commands) {
    commands += "    '" + command.name + ":" + escaped(command.description, false) + "'\n";
    branches += "    " + command.name + ")\n      " + arguments(command.options) + " ;;\n";
  }
  return "#compdef " + program.name + "\n# Completion of " + program.name +
         " for zsh; written by `tuft completion zsh`.\n_tuft() {\n  local -a commands\n  commands=(\n" +
         commands + "  )\n  if (( CURRENT == 2 )); then\n    _describe command commands\n    " +
         arguments(program.options) +
         "\n    return\n  fi\n  local chosen=$words[2]\n  shift words\n  (( CURRENT-- ))\n"
         "  case $chosen in\n" +
         branches +
         "  esac\n}\n\n"
         "# Found by autoload it is the function's own body; sourced it has to be made known.\n"
         "if [[ $funcstack[1] == _tuft ]]; then\n  _tuft \"$@\"\nelse\n  compdef _tuft " +
         program.name + "\nfi\n";
}

}  // namespace tuft::start
