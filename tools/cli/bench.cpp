// tuft bench: what a hand, a strip, an anemometer and a thermal camera would see, and a set-up that shows
// what is true in use.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>

#include "geometry/casefile/nearest.hpp"
#include "solver/experiment/bench_report.hpp"
#include "solver/experiment/setup.hpp"
#include "solver/flow2d/section_solve.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/field.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/bench.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

struct BenchOptions {
  CaseArgument given;
  std::string condition, pose, load, support, against, claim;
  OutOption out;
  SectionWish section;
  bool no_files = false, quiet = false;
};

// Index in a list of names; refuses with the nearest known one.
int find_in(const std::vector<std::string>& known, const char* kind, const std::string& name) {
  const auto found = std::find(known.begin(), known.end(), name);
  if (found != known.end()) return static_cast<int>(found - known.begin());
  refuse_unknown(std::string("there is no ") + kind + " '" + name + "'", casefile::hint_for(name, known),
                 known);
}

int find_pose(geometry::Case& content, const std::string& name) {
  std::vector<std::string> known = names_of(content.poses);
  for (const std::string& word : geometry::pose_words())
    if (!casefile::contains(known, word)) known.push_back(word);
  find_in(known, "pose", name);
  return experiment::find_or_add_pose(content, name);
}

// A support or load of the case, or the word that everybody knows, which `add` brings into the case.
int find_or_add(geometry::Case& content, std::vector<std::string> known, const char* kind, const char* word,
                int (*add)(geometry::Case&), const std::string& name) {
  const auto of_case = static_cast<int>(known.size());
  if (!casefile::contains(known, word)) known.push_back(word);
  const int found = find_in(known, kind, name);
  return found < of_case ? found : add(content);
}

int find_claim(const geometry::Case& content, const std::string& id) {
  const std::vector<std::string> known = claim_ids(content);
  if (known.empty()) refuse("the case has no claim at all, so no '" + id + "'");
  return find_in(known, "claim", id);
}

// The first condition in which the device is held otherwise than in `use`.
int other_pose(const geometry::Case& content, int use) {
  const auto& all = content.conditions;
  const int other =
      geometry::find_index(all, [&](const auto& each) { return each.pose != io::at(all, use).pose; });
  if (other >= 0) return other;
  refuse("no condition of the case holds the device otherwise than '" + io::at(all, use).name +
         "'; say how it is to be held with --pose (" + casefile::listed(geometry::pose_words()) + ")");
}

// Where the claim's evidence was gathered, if it says so; else the first condition held otherwise than in
// use.
int default_bench(const geometry::Case& content, const experiment::Question& question) {
  if (question.claim >= 0) {
    const int seen_in = io::at(content.claims, question.claim).seen_in;
    if (seen_in >= 0 && seen_in != question.use) return seen_in;
  }
  return other_pose(content, question.use);
}

experiment::Question question_of(geometry::Case& content, const BenchOptions& options) {
  if (content.conditions.empty()) refuse("the case has no condition to look at");
  experiment::Question question;
  if (!options.claim.empty()) {
    question.claim = find_claim(content, options.claim);
    const geometry::Claim& claim = io::at(content.claims, question.claim);
    question.use = claim.kind == geometry::ClaimKind::changes_role ? claim.against : claim.when;
  }
  if (!options.against.empty()) question.use = find_condition(content, options.against);
  const bool built = !options.pose.empty() || !options.load.empty() || !options.support.empty();
  if (!options.condition.empty() && built)
    refuse("--condition names a whole condition; leave it out, or leave out --pose, --load and --support");
  if (built) {
    geometry::Condition wanted = io::at(content.conditions, question.use);
    if (!options.pose.empty()) wanted.pose = find_pose(content, options.pose);
    if (!options.support.empty())
      wanted.support = find_or_add(content, names_of(content.supports), "support", "air", experiment::add_air,
                                   options.support);
    if (!options.load.empty())
      wanted.load = find_or_add(content, names_of(content.loads), "load", "cold", experiment::add_cold_full,
                                options.load);
    question.bench = experiment::add_condition(content, wanted);
  } else {
    question.bench = options.condition.empty() ? default_bench(content, question)
                                               : find_condition(content, options.condition);
  }
  if (question.bench == question.use)
    refuse("the bench condition and the condition it is compared with are the same, '" +
           io::at(content.conditions, question.use).name + "'");
  return question;
}

// The slice through the bench condition that near-vent air is read off.
flow2d::SectionResult solve_slice(const geometry::Case& content, int bench,
                                  const std::optional<flow2d::Plane>& plane) {
  const auto& condition = io::at(content.conditions, bench);
  const study::ConditionResult network = study::predict(content, bench);
  fail_unless_solved(network);
  flow2d::SectionOptions wanted;
  wanted.plane = plane;
  wanted.uncertainty = false;  // the air before vents is read off it, no fractions
  flow2d::SectionResult slice =
      flow2d::solve_section(content, condition, study::section_boundary_data(network), wanted);
  if (!slice.usable())
    throw Failure(ExitStatus::no_solution,
                  io::printable("no cross-section of condition '" + condition.name + "': " + slice.message +
                                "; without --section the bench uses its laws"));
  return slice;
}

io::ResultsPlace place_of(const BenchOptions& options) {
  io::Asked asked{"bench", named(options.condition), {}};
  const auto add = [&](const char* option, const std::string& value) {
    if (!value.empty()) asked.with.push_back(std::string(option) + " " + value);
  };
  add("--pose", options.pose);
  add("--load", options.load);
  add("--support", options.support);
  add("--against", options.against);
  add("--claim", options.claim);
  if (options.section.given) asked.with.push_back("--section");
  return results_place(options.out, options.given.path, "-bench", std::move(asked));
}

ExitStatus bench_command(const BenchOptions& options) {
  const casefile::CaseFile file = load_case(options.given);
  geometry::Case content = file.content;
  experiment::Question question = question_of(content, options);
  question.spots = file.spots;
  std::optional<flow2d::SectionResult> slice;
  if (options.section.given) {
    const std::optional<flow2d::Plane> plane = read_plane(content.device, options.section.at);
    slice = solve_slice(content, question.bench, plane);
    question.section = &*slice;
  }
  std::optional<experiment::Unsolved> unsolved;
  io::BenchRun run;
  run.report = experiment::judge_bench(content, question, unsolved);
  if (unsolved) refuse_unsolved(unsolved->condition, unsolved->reason);
  run.case_file = std::filesystem::path(file.path).filename().string();
  run.case_sha256 = io::sha256(file.text);
  run.version = TUFT_VERSION;
  if (!options.quiet) say(io::bench_text(run, look()) + "\n");
  const auto write = [&](const auto& place) { return io::write_bench(run, place); };
  const std::string written = options.no_files ? "" : write_results_folder(place_of(options), write);
  if (!options.quiet) say(written + io::fill("", io::kCautionLine, look().width));
  return ExitStatus::good;
}

}  // namespace

void add_bench(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, bench_command, "bench",
      "What a strip, a hand or an anemometer would show, and a set-up that shows what is true in use",
      "Examples:\n  tuft bench notebook.yaml --pose on-right-edge --load idle\n"
      "  tuft bench notebook.yaml --condition bench --against use-idle --claim grille-draws\n\n"
      "Exit status: 0 judged, 3 bad input, 4 a condition without a solution, 5 results not written.");
  add_case_argument(command, options.given);
  add_value_option(command, "--condition", options.condition, "NAME",
                   "Condition of the measurement; default: that of the claim's evidence, else another pose");
  add_value_option(command, "--pose", options.pose, "POSE",
                   "Instead of --condition: a pose of the file, or a known pose");
  add_value_option(command, "--load", options.load, "LOAD",
                   "A load, with or without --pose; cold: no load, fans at full speed");
  add_value_option(command, "--support", options.support, "SUPPORT",
                   "What the device rests on; air: it hangs free");
  add_value_option(command, "--against", options.against, "NAME",
                   "The condition of use to compare with; default: the claim's, else the first");
  add_value_option(command, "--claim", options.claim, "ID", "The claim to be shown; default: all vents");
  add_section_option(command,
                     "Take the air before vents from a cross-section, here (x=120mm) or where it shows most",
                     options.section);
  add_out_option(command, options.out, "-bench");
  command.add_flag("--no-files", options.no_files, "Print the text; write no files");
  add_quiet_option(command, options.quiet);
}

}  // namespace tuft::cli
