// tuft report: one page to publish, from a case or from its results file.
#include <CLI/CLI.hpp>
#include <filesystem>

#include "tools/cli/console.hpp"
#include "tools/cli/figure_photo.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/sampling.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/read_whole.hpp"
#include "tools/io/run.hpp"
#include "tools/io/utf8.hpp"
#include "tools/page/page.hpp"
#include "tools/page/results_file.hpp"

namespace tuft::cli {
namespace {

namespace fs = std::filesystem;

struct ReportOptions {
  CaseArgument given;
  std::string out;
  std::vector<std::string> with;
  bool search_states = false;
  int samples = kPassingSamples;
  bool inputs_only = false;
  FieldChoice field;
  const CLI::Option* given_units = nullptr;    ///< whether --units was given
  const CLI::Option* given_samples = nullptr;  ///< whether --samples was given
  const CLI::Option* given_inputs_only = nullptr;
};

// A results file, and whether all its conditions have a solution.
struct Results {
  std::string text;
  bool all_solved = true;
  std::vector<page::ReportPhoto> photos = {};
};

bool is_results_file(const fs::path& path) { return path.extension() == ".json"; }

std::string bytes_of(const std::string& path) {
  try {
    return io::read_whole(path);
  } catch (const std::runtime_error& error) {
    refuse(error.what());
  }
}

Results solved_results(const ReportOptions& options) {
  const casefile::CaseFile file = load_case(options.given, options.inputs_only);
  const auto search = options.search_states ? study::StateSearch::walks : study::StateSearch::starts;
  io::Run run = solve(file, find_conditions(file.content, {}), search);
  sample(run, options.samples, options.field.and_none(options.inputs_only), true);
  Results results{"", all_solved(run), report_photos(run.content, options.given.path)};
  write_or_fail([&] { results.text = io::results_json(run, {{"predict", {}, {}}, {"results.json"}, {}}); });
  return results;
}

// Results files of other commands, given by themselves or by their folders.
Results with_others(Results results, const ReportOptions& options) {
  for (const std::string& given : options.with) {
    const fs::path path = fs::is_directory(given) ? fs::path(given) / "results.json" : fs::path(given);
    const auto listed = [&](const std::string& name) {
      return bytes_of((path.parent_path() / name).string());
    };
    try {
      results.text = page::with_sections(results.text, bytes_of(path.string()), listed);
    } catch (const page::ResultsError& error) {
      refuse(path.string() + ": " + error.what());
    }
  }
  return results;
}

std::string page_of(const Results& results, const std::string& path) {
  try {
    return page::report_page(results.text, engine_for_page(), results.photos);
  } catch (const page::ResultsError& error) {
    refuse(path + ": " + error.what());
  }
}

fs::path place_of(const ReportOptions& options) {
  if (!options.out.empty()) return options.out;
  const fs::path path(options.given.path);
  if (!is_results_file(path) || path.filename() != "results.json") return path.stem().string() + ".html";
  const std::string folder = fs::absolute(path).parent_path().filename().string();
  return (folder.empty() ? "results" : folder) + ".html";
}

ExitStatus report(const ReportOptions& options) {
  const bool is_results = is_results_file(options.given.path);
  for (const CLI::Option* given : {options.given_samples, options.given_inputs_only})
    if (is_results && given->count() > 0)
      refuse(given->get_name() + ": a results file holds what was sampled; give the case to sample it anew");
  if (is_results && (!options.field.folder.empty() || options.field.none))
    refuse("--field and --no-field: a results file holds its answers; give the case to have it solved");
  if (is_results && options.given_units->count() > 0)
    refuse(
        "--units: the sentences of a results file are in its units; give the case to have it solved in "
        "others");
  const Results results = with_others(
      is_results ? Results{bytes_of(options.given.path), true} : solved_results(options), options);
  const std::string page = page_of(results, options.given.path);
  if (options.out == "-") {
    say(page);
    return results.all_solved ? ExitStatus::good : ExitStatus::no_solution;
  }
  const fs::path place = place_of(options);
  write_or_fail([&] { io::write_whole_file(place, page, page::kPageMark); });
  say("Page: " + io::printable(place.string()) + "\n");
  return results.all_solved ? ExitStatus::good : ExitStatus::no_solution;
}

}  // namespace

void add_report(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, report, "report", "One page to publish: answers, drawings to scale, tables, assumptions",
      "Examples:\n  tuft report notebook.yaml\n  tuft report notebook-tuft/results.json --out page.html\n"
      "  tuft report notebook.yaml --with notebook-field --with notebook-bench\n\n"
      "The page needs no network and no other file. The photos of a case are in it, straightened, without "
      "what "
      "the camera wrote about them; a results file has none. An earlier page is replaced; any other file is "
      "left alone.\n"
      "Exit status: 0 written, 3 bad input, 4 a condition without a solution, 5 not written.");
  command.add_option("CASE", options.given.path, "Case file, or a results.json, which is not solved again")
      ->required();
  options.given_units = add_units_option(command, options.given.units);
  add_value_option(command, "--out", options.out, "FILE",
                   "The page, or - for standard output; default: named after the case, in this folder");
  add_value_option(command, "--with", options.with, "DIR",
                   "Results of tuft field, bench or warmup of the same case to show too");
  add_field_options(command, options.field);
  options.given_samples = add_samples_option(command, options.samples);
  options.given_inputs_only = add_inputs_only_option(command, options.inputs_only)->excludes("--field");
  add_thorough_option(command, options.search_states);
}

}  // namespace tuft::cli
