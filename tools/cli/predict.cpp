// tuft predict: solves the conditions of a case, shows them, and writes the results folder.
#include <CLI/CLI.hpp>
#include <algorithm>

#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/sampling.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/run.hpp"
#include "tools/io/table.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

struct PredictOptions {
  CaseArgument given;
  std::vector<std::string> conditions;
  std::vector<std::string> details;  ///< conditions to show as tables, or kAll
  OutOption out;
  bool no_files = false;
  bool quiet = false;
  bool search_states = false;
  int samples = kPassingSamples;
  bool inputs_only = false;
};

constexpr const char* kAll = "all";  // what --details means without a name

// Indices of the conditions to be shown as tables; all that are solved where no name says which.
std::vector<int> detailed(const geometry::Case& content, const std::vector<int>& solved,
                          const std::vector<std::string>& names) {
  if (contains(names, kAll)) return solved;
  if (names.empty()) return {};
  const std::vector<int> wanted = find_conditions(content, names);
  for (const int condition : wanted)
    if (!contains(solved, condition))
      refuse("--details: condition '" + io::at(content.conditions, condition).name +
             "' is not among those that --condition names");
  return wanted;
}

void say_tables(const io::Run& run, const std::vector<int>& wanted) {
  const io::Look style = look();
  if (!run.assumptions.empty())
    say(io::fill("! ",
                 io::counted(run.assumptions.size(), "value") +
                     " not in the file had to be assumed; tuft lint lists them.",
                 style.width) +
        "\n");
  for (const auto& result : run.conditions)
    if (contains(wanted, result.condition)) say(io::condition_text(run.content, result, style) + "\n");
  for (const auto& sweep : run.content.sweeps) {
    if (!contains(wanted, sweep.condition)) continue;
    for (const auto& result : run.sweeps)
      if (result.name == sweep.name) say(io::sweep_text(run.content, sweep, result, style) + "\n");
  }
}

// The answers on one screen.
void say_overview(const io::Run& run) {
  const io::Look style = look();
  say(io::overview_text(run, style));
  if (!run.claims.empty()) say("\n" + io::verdicts_text(run, style));
  if (run.uncertainty && !run.claims.empty()) say_filled(short_sampling_note(run.content, *run.uncertainty));
  say("\n");
}

// What stands below the tables.
void say_endnotes(const io::Run& run) {
  const io::Look style = look();
  if (any_solved(run)) say(io::reading_help(style));
  if (!run.claims.empty()) say("\n" + io::verdicts_text(run, style));
  if (run.uncertainty) {
    const std::string why = run.claims.empty() ? "" : " tuft check says why.";
    say_filled(sampling_note(run.content, *run.uncertainty) + why);
  }
}

// Names what has no solution on standard error, where it is seen also when the tables go elsewhere.
void complain_unsolved(const io::Run& run) {
  std::vector<std::string> names;
  for (const auto& result : run.conditions)
    if (!result.report.converged) names.push_back(study::quoted(io::printable(result.name)));
  for (const auto& sweep : run.sweeps) {
    const bool whole = std::all_of(sweep.points.begin(), sweep.points.end(),
                                   [](const auto& point) { return point.result.report.converged; });
    if (!whole) names.push_back("all of sweep " + study::quoted(io::printable(sweep.name)));
  }
  complain("tuft: no solution for " + io::listed(names) + "\n");
}

io::ResultsPlace place_of(const PredictOptions& options) {
  return results_place(options.out, options.given.path, "-tuft", {"predict", options.conditions, {}});
}

ExitStatus predict(const PredictOptions& options) {
  const casefile::CaseFile file = load_case(options.given, options.inputs_only);
  const auto search = options.search_states ? study::StateSearch::walks : study::StateSearch::starts;
  const std::vector<int> conditions = find_conditions(file.content, options.conditions);
  const std::vector<int> tables = detailed(file.content, conditions, options.details);
  io::Run run = solve(file, conditions, search);
  sample(run, options.samples, network_first().unless(options.inputs_only), !options.quiet);
  if (!options.quiet) {
    if (tables.empty()) {
      say_overview(run);
    } else {
      say_tables(run, tables);
      say_endnotes(run);
    }
  }
  const auto write = [&](const auto& place) { return io::write_results(run, place); };
  const std::string written = options.no_files ? "" : write_results_folder(place_of(options), write);
  if (!options.quiet) {
    say(written + io::fill("", io::kCautionLine, look().width));
  }
  if (all_solved(run)) return ExitStatus::good;
  complain_unsolved(run);
  return ExitStatus::no_solution;
}

}  // namespace

void add_predict(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, predict, "predict", "Which vents take air in, let it out, or do next to nothing",
      "Examples:\n  tuft predict notebook.yaml\n  tuft predict notebook.yaml --details=use\n"
      "  tuft predict notebook.yaml --condition use --condition bench --out figures\n\n"
      "Exit status: 0 every condition solved, 3 bad input, 4 a condition without a solution, 5 results not "
      "written.");
  add_case_argument(command, options.given);
  add_conditions_option(command, options.conditions);
  command.add_flag(
      "--details{" + std::string(kAll) + "}", options.details,
      "Tables with numbers instead of the overview; --details=NAME: of one condition, repeatable");
  add_out_option(command, options.out, "-tuft");
  command.add_flag("--no-files", options.no_files, "Print the answers; write no files");
  add_thorough_option(command, options.search_states);
  add_samples_option(command, options.samples);
  add_inputs_only_option(command, options.inputs_only);
  add_quiet_option(command, options.quiet);
}

}  // namespace tuft::cli
