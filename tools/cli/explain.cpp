// tuft explain: one vent's pressure balance in words.
#include <CLI/CLI.hpp>

#include "solver/study/predict.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

struct ExplainOptions {
  CaseArgument given;
  std::string vent;
  std::vector<std::string> conditions;
};

// Says one condition; false when it has no solution.
bool explain_condition(const geometry::Case& content, int vent, int index) {
  const io::Look style = look();
  const study::ConditionResult result = study::predict(content, index);
  const auto& condition = io::at(content.conditions, index);
  const std::string name = io::printable(result.name);
  say(io::inked(name, io::Ink::strong, style) + ": " + io::circumstances(content, condition) + "\n");
  if (!result.report.converged) {
    say(io::fill("  ", "No solution: " + io::printable(result.report.reason), style.width) + "\n");
    return false;
  }
  say(io::fill("  ", study::explain(content, vent, result), style.width) + "\n");
  return true;
}

ExitStatus explain(const ExplainOptions& options) {
  const casefile::CaseFile file = load_case(options.given);
  const int vent = find_vent(file.content, options.vent);
  bool all_solved = true;
  for (const int condition : find_conditions(file.content, options.conditions))
    all_solved = explain_condition(file.content, vent, condition) && all_solved;
  return all_solved ? ExitStatus::good : ExitStatus::no_solution;
}

}  // namespace

void add_explain(CLI::App& app, ExitStatus& status) {
  auto [command, options] =
      add_command(app, status, explain, "explain", "Why a vent does what it does, in words",
                  "Example:\n  tuft explain notebook.yaml base-grille --condition use\n\n"
                  "Exit status: 0 explained, 3 bad input, 4 a condition without a solution.");
  add_case_argument(command, options.given);
  command.add_option("VENT", options.vent, "Name of the vent")->required();
  add_conditions_option(command, options.conditions);
}

}  // namespace tuft::cli
