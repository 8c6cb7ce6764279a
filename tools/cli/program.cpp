#include "tools/cli/program.hpp"

#include <CLI/CLI.hpp>
#include <exception>

#include "tools/io/utf8.hpp"
#include "tools/cli/command_fault.hpp"
#include "tools/cli/commands.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/first_screen.hpp"

namespace tuft::program {
namespace {

void set_up(CLI::App& app, ExitStatus& status) {
  app.set_version_flag("--version", std::string("tuft ") + TUFT_VERSION);
  app.require_subcommand(1);
  add_predict(app, status);
  add_check(app, status);
  add_study(app, status);
  add_learn(app, status);
  add_compare(app, status);
  add_explain(app, status);
  add_lint(app, status);
  add_new(app, status);
  add_reference(app, status);
  add_warmup(app, status);
  add_bench(app, status);
  add_field(app, status);
  add_report(app, status);
  add_figure(app, status);
  add_watch(app, status);
  add_doctor(app, status);
  add_completion(app, status);
  add_man(app, status);
  app.footer(
      "Start with: tuft new \"My notebook\", then tuft predict my-notebook.yaml.\n"
      "tuft COMMAND --help says more on each command, with examples.\n\n"
      "Exit status: 0 good, 1 a claim fails, 2 a claim can't be told, 3 bad input, 4 no solution,\n"
      "5 output not written.");
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
  set_up(app, status);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& wanted) {  // help or version
    std::ostringstream text;
    app.exit(wanted, text, text);
    say(text.str());
  } catch (const CLI::ParseError& error) {
    throw Failure(ExitStatus::bad_input, output::printable(command_fault(app, error, argc, argv)));
  }
  return status;
}

}  // namespace

ExitStatus run(int argc, char** argv) {
  try {
    return parse_and_run(argc, argv);
  } catch (const Failure& failure) {
    show_fault(failure.what());
    return failure.status();
  } catch (const std::exception& error) {
    // Not foreseen: still a message and a status instead of an abort.
    show_fault(std::string("internal error: ") + error.what());
    return ExitStatus::no_solution;
  }
}

}  // namespace tuft::program
