// tuft field: the air inside and under the device cell by cell, beside what the network says.
#include "tools/cli/field.hpp"

#include <CLI/CLI.hpp>
#include <cmath>
#include <ctime>
#include <utility>

#include "solver/flow2d/layer_solve.hpp"
#include "solver/flow2d/section_solve.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/section_rounds.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/io/field_run.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

io::ResultsPlace place_of(const FieldOptions& options) {
  io::Asked asked{"field", named(options.condition), {}};
  if (options.section.given) asked.with.push_back("--section");
  if (options.recirculation) asked.with.push_back("--recirculation");
  if (options.refine) asked.with.push_back("--refine");
  if (options.until.empty())
    return results_place(options.out, options.given.path, "-field", std::move(asked));
  asked.command = "field --until";
  if (!options.from.empty()) asked.with.push_back("--from " + options.from);
  return results_place(options.out, options.given.path, "-transient", std::move(asked));
}

// A folder that must not be written is told before the solve, not after it.
void check_place(const FieldOptions& options) {
  if (!options.no_files) write_or_fail([&] { io::require_writable(place_of(options)); });
}

Showing showing(const FieldOptions& options) {
  if (options.progress) return Showing::always;
  return options.quiet ? Showing::never : Showing::on_terminal;
}

// The slice, and what the network makes of the air that its intakes draw again.
io::SectionRun solve_slice(const io::FieldRun& field, const std::optional<flow2d::Plane>& plane,
                           const FieldOptions& options) {
  flow2d::SectionOptions wanted;
  wanted.plane = plane;
  ProgressLine line(showing(options), 0, wanted.newton.residual_tolerance);
  wanted.newton.observer = [&line](const flow2d::Progress& progress) { line.show(progress); };
  const geometry::Case& content = field.run.content;
  io::SectionRun run;
  if (!options.recirculation) {
    run.result = flow2d::solve_section(
        content, io::condition_of(field),
        study::section_boundary_data(io::network_result(field), field.comparison), wanted);
    return run;
  }
  study::RoundsOptions turns;
  turns.section = wanted;
  turns.field = field.comparison;
  study::Rounds rounds = study::recirculation_rounds(content, io::network_result(field), turns);
  if (rounds.section.usable())
    run.fed_back = io::FedBack{std::move(rounds.network),
                               std::move(rounds.lowest),
                               std::move(rounds.highest),
                               rounds.apart,
                               rounds.settled,
                               turns.tolerance};
  run.result = std::move(rounds.section);
  return run;
}

// Whoever was told a time is told where it was not kept.
void say_if_longer(const io::FieldRun& field, const std::string& expected, double took, bool quiet) {
  const FieldTime time = field_time(field.run.content.device, field.cell);
  if (expected.empty() || quiet || took <= time.usual) return;
  complain("The layers took " + io::duration_text(took) + " of processor time" +
           (took > time.most               ? ", longer than was said"
            : field.plan.marched_steps > 0 ? ": no steady state was found at once"
                                           : ", within what was said at most") +
           ".\n");
}

// Once more on cells half as large.
study::Refined solve_refined(const io::FieldRun& field, Showing showing) {
  flow2d::PlanOptions wanted;
  wanted.cell = field.cell;
  ProgressLine line(showing,
                    static_cast<int>(std::lround(2.0 * field.run.content.device.size.x() / field.cell)),
                    wanted.newton.residual_tolerance);
  wanted.newton.observer = [&line](const flow2d::Progress& progress) { line.show(progress); };
  return study::refine(field.run.content, io::network_result(field), field.plan, wanted);
}

io::FieldRun solve_field(casefile::CaseFile file, const FieldOptions& options) {
  io::FieldRun field;
  const int condition = chosen_condition(file.content, options.condition, "");
  field.cell = read_cell(file.content.device, options.cells);
  if (options.refine) require_half_cell(file.content.device, field.cell);
  require_memory(file.content.device, options.refine ? 0.5 * field.cell : field.cell);
  const std::optional<flow2d::Plane> plane = read_plane(file.content.device, options.section.at);
  check_place(options);
  file.content.sweeps.clear();  // they belong to predict
  field.run = solve(file, {condition});
  fail_unless_solved(io::network_result(field));
  const std::string expected = field_time_text(field.run.content.device, field.cell);
  if (!expected.empty() && !options.quiet) complain(expected + "\n");
  const std::clock_t begins = std::clock();
  solve_layers(field, showing(options), "; nothing was written");
  say_if_longer(field, expected, static_cast<double>(std::clock() - begins) / CLOCKS_PER_SEC, options.quiet);
  if (options.refine) field.refined = solve_refined(field, showing(options));
  if (options.section.given || options.recirculation) field.section = solve_slice(field, plane, options);
  return field;
}

// The network's answer, and with --from that of the condition to start from.
ExitStatus run_transient(casefile::CaseFile file, const TransientRequest& wish, const FieldOptions& options) {
  const int condition = chosen_condition(file.content, options.condition, "");
  TransientRun run;
  run.wish = wish;
  run.showing = showing(options);
  io::TransientRecord& record = run.record;
  record.field.cell = read_cell(file.content.device, options.cells);
  require_memory(file.content.device, record.field.cell);
  check_place(options);
  file.content.sweeps.clear();
  record.field.run = solve(file, {condition});
  fail_unless_solved(io::network_result(record.field));
  if (wish.from >= 0) {
    run.start = solve(file, {wish.from}).conditions.front();
    fail_unless_solved(*run.start);
  }
  if (!options.no_files) run.place = place_of(options);
  return write_transient(&run, options.quiet);
}

ExitStatus run_field(const FieldOptions& options) {
  casefile::CaseFile file = load_case(options.given);
  if (const std::optional<TransientRequest> wish = read_transient(file.content, options))
    return run_transient(std::move(file), *wish, options);
  const io::FieldRun field = solve_field(std::move(file), options);
  if (!options.quiet) {
    say(io::field_text(field, look()) + "\n");
    if (field.section) say(io::section_text(field, look()) + "\n");
  }
  const auto write = [&](const auto& place) { return io::write_field(field, place); };
  const std::string written = options.no_files ? "" : write_results_folder(place_of(options), write);
  if (!options.quiet) say(written + io::fill("", io::kCautionLine, look().width));
  if (field.section && !field.section->result.usable()) {
    complain("tuft: no solution for the section; results.json says why\n");
    return ExitStatus::no_solution;
  }
  if (io::is_whole(field)) return ExitStatus::good;
  complain("tuft: the fields include only part of the air's inertia; results.json says how much\n");
  return ExitStatus::no_solution;
}

void add_options(CLI::App& command, FieldOptions& options) {
  add_case_argument(command, options.given);
  add_condition_option(command, options.condition);
  add_value_option(command, "--cells", options.cells, "LENGTH",
                   "Side of a cell, such as 2mm; default: the finest that takes seconds");
  add_section_option(command,
                     "Also solve a cross-section with the air around, here (x=120mm) or where it shows most",
                     options.section);
  command.add_flag("--recirculation", options.recirculation,
                   "With --section: compute how much air recirculates, and what that changes");
  command.add_flag("--refine", options.refine,
                   "Also on cells half as large: what that changes is the measure of the field's own error");
  add_value_option(command, "--until", options.until, "TIME",
                   "Compute the transient up to this time instead, such as 60s");
  add_value_option(command, "--every", options.every, "TIME",
                   "With --until: time between fields; default: only start and end");
  add_value_option(command, "--from", options.from, "START",
                   "With --until, the start: cold (default), or steady:NAME, a condition's steady state");
  add_out_option(command, options.out, "-field");
  command.add_flag("--no-files", options.no_files, "Print the comparison; write no files");
  command.add_flag("--progress", options.progress, "Report every step, even without a terminal");
  add_quiet_option(command, options.quiet);
}

}  // namespace

void solve_layers(io::FieldRun& field, Showing showing, const std::string& more) {
  const geometry::Device& device = field.run.content.device;
  flow2d::PlanOptions wanted;
  wanted.cell = field.cell;
  ProgressLine line(showing, static_cast<int>(std::lround(device.size.x() / field.cell)),
                    wanted.newton.residual_tolerance);
  wanted.newton.observer = [&line](const flow2d::Progress& progress) { line.show(progress); };
  const study::ConditionResult& network = io::network_result(field);
  field.plan = flow2d::solve_plan(field.run.content, io::condition_of(field),
                                  study::layer_boundary_data(network), wanted);
  if (field.plan.end == flow2d::PlanEnd::no_network || field.plan.end == flow2d::PlanEnd::not_converged)
    throw Failure(ExitStatus::no_solution, io::printable("no field of condition '" + network.name +
                                                         "': " + field.plan.message + more));
  field.comparison = study::compare_with_field(field.run.content, network, field.plan);
}

void add_field(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, run_field, "field",
      "The air inside and under the device, cell by cell, and whether it changes the answer",
      "Examples:\n  tuft field notebook.yaml --condition use\n"
      "  tuft field notebook.yaml --condition use --cells 2mm --out field-use\n"
      "  tuft field notebook.yaml --condition use --cells 2mm --refine\n"
      "  tuft field notebook.yaml --condition use --section x=206mm --recirculation\n"
      "  tuft field notebook.yaml --condition lid-shut --from steady:use --until 5min --every 2s\n\n"
      "Ctrl-C during a transient keeps the results so far in a folder whose name ends in .partial. At any\n"
      "other time it keeps nothing.\n\n"
      "Exit status: 0 solved, 3 bad input, 4 the condition or its field has no solution, 5 results not "
      "written.");
  add_options(command, options);
}

}  // namespace tuft::cli
