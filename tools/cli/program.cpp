// The program: command line in, exit status out.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <csignal>
#include <exception>
#include <new>
#include <sstream>
#include <vector>

#include "geometry/casefile/nearest.hpp"
#include "solver/numerics/keep_memory.hpp"
#include "tools/cli/console.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {

// Adds a command to the command line. When it was asked for, it runs and leaves its exit status, or throws
// Failure.
using AddCommand = void(CLI::App& app, ExitStatus& status);

// The one list of commands, in the order of `tuft --help`; each is a file of this folder.
AddCommand add_predict, add_check, add_study, add_learn, add_compare, add_explain, add_lint, add_new,
    add_draw, add_reference, add_warmup, add_bench, add_thermal, add_field, add_report, add_figure, add_sheet,
    add_watch, add_doctor, add_completion, add_man;

namespace {

constexpr AddCommand* kCommands[] = {
    add_predict, add_check,  add_study,     add_learn,  add_compare, add_explain,    add_lint,
    add_new,     add_draw,   add_reference, add_warmup, add_bench,   add_thermal,    add_field,
    add_report,  add_figure, add_sheet,     add_watch,  add_doctor,  add_completion, add_man};

// What tuft says when nothing is asked of it: what it is for, its three jobs with one command each, and where
// to go on. At most 80 columns wide. The conditions named here are those of a file that tuft new writes.
std::string first_screen() {
  return R"(Tuft predicts which openings of a small electronics chassis take air in, which
let it out, and which do next to nothing. It says why, and how probable it is.

Start a file. The program asks a few questions and writes my-notebook.yaml:
    tuft new "My notebook"

Three jobs, one command each:
  Check a sentence about vents before you publish it
    tuft check my-notebook.yaml
  See what a surface, a lap, a stand or a closed lid does
    tuft compare my-notebook.yaml --from on-table --to on-bed
  Test a measurement at the bench: what would a strip of paper show there?
    tuft bench my-notebook.yaml --pose on-right-edge

Go on:
  tuft predict my-notebook.yaml   every condition of the file, and its results
  tuft reference vents            what can stand in a file, by section
  tuft check --help               more on a command; tuft --help lists them all
  README.md and docs/how-to       a tour, and the three jobs step by step

Beware of hot parts, batteries and spinning fans in an opened device. Unplug it
before you open it. This is a prediction, not a safety assessment.
)";
}

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

std::string with_help(const std::string& fault, const CLI::App* command) {
  const char* joint = fault.back() == '?' ? " " : "; ";
  return fault + joint + "tuft " + (command == nullptr ? std::string() : command->get_name() + " ") +
         "--help says more";
}

// Commands that know an option which the one at hand does not.
std::string where_known(const CLI::App& app, const std::string& option) {
  std::vector<std::string> owners;
  for (const CLI::App* command : app.get_subcommands({}))
    if (casefile::contains(option_names(*command), option)) owners.push_back(command->get_name());
  return owners.empty() ? "" : "it is an option of " + casefile::listed(owners);
}

bool is_case_file(const std::string& word) {
  const std::size_t dot = word.rfind('.');
  return dot != std::string::npos && (word.substr(dot) == ".yaml" || word.substr(dot) == ".yml");
}

std::string no_such_command(const CLI::App& app, const std::string& word) {
  if (is_case_file(word))
    return "'" + word + "' is no command; the command comes before the case file: tuft predict " + word;
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
    const bool number = option.find_first_not_of("-.0123456789") == std::string::npos;
    if (!number && !casefile::contains(known, option)) return option;
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

// What is wrong with a command line, in one sentence: what was found, what is allowed, and the command or
// option that may have been meant. At least one word must follow the program's name.
std::string command_fault(const CLI::App& app, const CLI::ParseError& error, int argc, char** argv) {
  const std::vector<std::string> words(argv + std::min(argc, 1), argv + argc);
  const auto commands =
      app.get_subcommands([&](const CLI::App* each) { return each->check_name(words.front()); });
  const CLI::App* command = commands.empty() ? nullptr : commands.front();
  if (command == nullptr)
    return words.front()[0] == '-' ? no_such_option(app, nullptr, words.front())
                                   : no_such_command(app, words.front());
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

void setup(CLI::App& app, ExitStatus& status) {
  app.set_version_flag("--version", std::string("tuft ") + TUFT_VERSION);
  app.require_subcommand(1);
  for (AddCommand* add : kCommands) add(app, status);
  app.footer(std::string(
                 "Start with: tuft new \"My notebook\", then tuft predict my-notebook.yaml.\n"
                 "tuft COMMAND --help explains each command, with examples.\n\n"
                 "Exit status: 0 good, 1 a claim fails, 2 a claim is undecided, 3 bad input, 4 no solution,\n"
                 "5 output not written.\n\n") +
             io::fill("", io::kCaution, 80));
}

void show_fault(const std::string& message) {
  std::string text = message;
  if (text.empty() || text.back() != '\n') text = "tuft: " + text + "\n";
  complain(text);
}

ExitStatus parse_and_run(int argc, char** argv) {
  if (argc < 2) {
    say(first_screen());
    return ExitStatus::good;
  }
  CLI::App app(
      "Predicts which openings of a small electronics chassis take air in, let it out, or do neither.",
      "tuft");
  ExitStatus status = ExitStatus::good;
  setup(app, status);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& wanted) {  // help or version
    std::ostringstream text;
    app.exit(wanted, text, text);
    say(text.str());
  } catch (const CLI::ParseError& error) {
    throw Failure(ExitStatus::bad_input, io::printable(command_fault(app, error, argc, argv)));
  }
  return status;
}

// Parses the command line, runs the command, and shows what went wrong on standard error.
ExitStatus run(int argc, char** argv) {
  try {
    return parse_and_run(argc, argv);
  } catch (const Failure& failure) {
    show_fault(failure.what());
    return failure.status();
  } catch (const std::bad_alloc&) {
    show_fault("there is not enough memory for this; ask for larger cells, fewer samples or fewer threads");
    return ExitStatus::no_solution;
  } catch (const std::exception& error) {
    // Not foreseen: still a message and a status instead of an abort.
    show_fault(std::string("internal error: ") + error.what());
    return ExitStatus::no_solution;
  }
}

}  // namespace
}  // namespace tuft::cli

int main(int argc, char** argv) {
  // A write that fails is told by whoever writes; neither a closed pipe nor a full quota ends the program.
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  tuft::numerics::keep_freed_memory();
  return static_cast<int>(tuft::cli::run(argc, argv));
}
