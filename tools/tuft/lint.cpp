// tuft lint: what is wrong with a case file, what looks wrong, and what had to be assumed.
#include <CLI/CLI.hpp>
#include <memory>

#include "tools/output/grid.hpp"
#include "tools/output/utf8.hpp"
#include "tools/output/words.hpp"
#include "tools/tuft/commands.hpp"
#include "tools/tuft/console.hpp"
#include "tools/tuft/load.hpp"

namespace tuft::program {
namespace {

void say_assumptions(const std::vector<casefile::Assumption>& assumptions) {
  if (assumptions.empty()) return;
  const output::Look style = look();
  say("Not in the file, and therefore assumed:\n");
  for (const auto& assumption : assumptions) {
    say("  " + output::inked(output::printable(assumption.key), output::Ink::strong, style) + ": " +
        output::printable(assumption.value) + "\n" +
        output::fill("      ", output::printable(assumption.sentence), style.width));
  }
  say("\n");
}

ExitStatus lint(const std::string& path) {
  const casefile::ReadResult read = casefile::read_case(path);
  complain(error_text(read));
  show_warnings(read);
  if (read.errors.empty()) say_assumptions(read.file.assumptions);
  std::string line =
      output::counted(read.errors.size(), "error") + ", " + output::counted(read.warnings.size(), "warning");
  if (read.errors.empty()) line += ", " + output::counted(read.file.assumptions.size(), "value") + " assumed";
  say(line + ".\n");
  return read.errors.empty() ? ExitStatus::good : ExitStatus::bad_input;
}

}  // namespace

void add_lint(CLI::App& app, ExitStatus& status) {
  auto path = std::make_shared<std::string>();
  CLI::App* command =
      app.add_subcommand("lint", "Errors and warnings of a case file, and what it leaves to assume");
  command->add_option("CASE", *path, "Case file")->required();
  command->footer("Example:\n  tuft lint notebook.yaml\n\nExit status: 0 no errors, 3 errors.");
  command->callback([path, &status] { status = lint(*path); });
}

}  // namespace tuft::program
