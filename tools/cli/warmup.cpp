// tuft warmup: a condition in time, from cold or from another state, with what goes wrong on the way.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/quantity.hpp"
#include "solver/network/warm_up.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warmup.hpp"
#include "tools/io/words.hpp"
#include "tools/cli/commands.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/warmup_result.hpp"

namespace tuft::program {
namespace {

using transient::Happening;
using transient::WarmUp;

struct WarmupOptions {
  std::string path, condition, from = "cold", power_off, until, band, out;
  std::vector<std::string> failing, loads;
  bool fans_run_on = false, no_files = false, quiet = false;
};

// A quantity of the command line; a bare number is in SI units.
double read_option(const char* option, const std::string& text, casefile::Dimension dimension,
                   const std::string& unit) {
  const bool bare = !text.empty() && text.find_first_not_of("0123456789.") == std::string::npos;
  const casefile::Quantity read = casefile::read_quantity(bare ? text + " " + unit : text, dimension);
  if (!read.ok())
    refuse(std::string(option) + ": " + read.fault + (read.hint.empty() ? std::string() : "; " + read.hint));
  return *read.value;
}

double read_time(const char* option, const std::string& text) {
  const double time = read_option(option, text, casefile::Dimension::time, "s");
  if (time < 0.0) refuse(std::string(option) + ": '" + text + "' lies before the start");
  return time;
}

// "NAME@TIME": the name may hold an @ itself.
std::pair<std::string, double> read_name_at(const char* option, const std::string& text) {
  const std::size_t sign = text.rfind('@');
  if (sign == std::string::npos || sign == 0 || sign + 1 == text.size())
    refuse(std::string(option) + ": '" + text + "' must be NAME@TIME, such as left@10min");
  return {text.substr(0, sign), read_time(option, text.substr(sign + 1))};
}

template <typename Named>
int find_in(const std::vector<Named>& list, const char* kind, const std::string& name) {
  std::vector<std::string> known;
  for (const Named& each : list) known.push_back(each.name);
  const auto found = std::find(known.begin(), known.end(), name);
  if (found != known.end()) return static_cast<int>(found - known.begin());
  if (known.empty()) refuse(std::string("the case has no ") + kind + " at all, so no '" + name + "'");
  const std::string hint = casefile::did_you_mean(name, known);
  refuse(std::string("the case has no ") + kind + " '" + name + "'; " +
         (hint.empty() ? "the file has: " + casefile::listed(known) : hint));
}

int start_of(const geometry::Case& content, const std::string& text) {
  const std::string steady = "steady:";
  if (text == "cold") return transient::kCold;
  if (text.rfind(steady, 0) == 0) return find_condition(content, text.substr(steady.size()));
  refuse("--from: '" + text + "' must be cold, or steady: and the name of a condition");
}

transient::Plan plan_of(const geometry::Case& content, const WarmupOptions& options) {
  transient::Plan plan;
  if (content.conditions.empty()) refuse("the case has no condition to warm up");
  if (!options.condition.empty()) plan.condition = find_condition(content, options.condition);
  plan.from = start_of(content, options.from);
  if (!options.band.empty()) {
    plan.band = read_option("--band", options.band, casefile::Dimension::difference, "K");
    if (!(plan.band > 0.0)) refuse("--band: must be above 0 K");
  }
  if (!options.until.empty()) plan.options.until = read_time("--until", options.until);
  if (!(plan.options.until > 0.0)) refuse("--until: must lie after the start");
  for (const std::string& text : options.failing) {
    const auto [name, time] = read_name_at("--fan-fails", text);
    const int fan = find_in(content.device.fans, "fan", name);
    plan.happenings.push_back({Happening::Kind::fan_fails, time, fan, true});
  }
  for (const std::string& text : options.loads) {
    const auto [name, time] = read_name_at("--load", text);
    plan.happenings.push_back({Happening::Kind::load, time, find_in(content.loads, "load", name), true});
  }
  if (!options.power_off.empty())
    plan.happenings.push_back(
        {Happening::Kind::power_off, read_time("--power-off", options.power_off), 0, !options.fans_run_on});
  for (const Happening& happening : plan.happenings)
    if (happening.time > plan.options.until)
      refuse("something is to happen after " + output::elapsed_text(happening.time) +
             ", but the end is after " + output::elapsed_text(plan.options.until) + "; set a later --until");
  return plan;
}

std::string write_folder(const output::Warmup& result, const WarmupOptions& options) {
  const std::filesystem::path place =
      options.out.empty() ? std::filesystem::path(options.path).stem().string() + "-warmup" : options.out;
  try {
    const std::size_t count = output::write_warmup(result, place).size();
    return "Results: " + output::printable(place.string()) + " (" + output::counted(count, "file") + ")\n";
  } catch (const output::FolderError& error) {
    throw Failure(ExitStatus::output_not_written, error.what());
  } catch (const output::NotFinite& error) {
    throw Failure(ExitStatus::no_solution, std::string(error.what()) + "; nothing was written");
  }
}

ExitStatus warmup(const WarmupOptions& options) {
  const casefile::CaseFile file = load_case(options.path);
  const transient::Plan plan = plan_of(file.content, options);
  const WarmUp run = transient::warm_up(file.content, plan);
  const std::string& name = file.content.conditions[static_cast<std::size_t>(plan.condition)].name;
  if (run.course.ending == transient::Ending::failed)
    throw Failure(ExitStatus::no_solution,
                  output::printable("no warm-up of " + name + ": " + run.course.message));
  const output::Warmup result = warmup_result(file, plan, run);
  if (!options.quiet) say(output::warmup_text(result, look()) + "\n");
  const std::string written = options.no_files ? "" : write_folder(result, options);
  if (!options.quiet) say(written + output::fill("", output::kCaution, look().width));
  return ExitStatus::good;
}

void add_options(CLI::App& command, WarmupOptions& options) {
  command.add_option("CASE", options.path, "Case file")->required();
  command.add_option("--condition", options.condition, "Which condition; default: the first")
      ->type_name("NAME");
  command
      .add_option("--from", options.from, "Start: cold (default), or steady:NAME, a condition's steady state")
      ->type_name("START");
  command.add_option("--fan-fails", options.failing, "A fan stops for good then; may be given several times")
      ->allow_extra_args(false)
      ->type_name("NAME@TIME");
  command.add_option("--load", options.loads, "Another load from then on; may be given several times")
      ->allow_extra_args(false)
      ->type_name("NAME@TIME");
  command
      .add_option("--power-off", options.power_off, "No source gives heat from then on, and fans stand still")
      ->type_name("TIME");
  command.add_flag("--fans-run-on", options.fans_run_on, "With --power-off: fans go on as the load says");
  command.add_option("--until", options.until, "End at the latest; default: 4 h")->type_name("TIME");
  command.add_option("--band", options.band, "Settled is what stays that near its end; default: 1 K")
      ->type_name("K");
  command.add_option("-o,--out", options.out, "Results folder; default: the case's name with -warmup, here")
      ->type_name("FOLDER");
  command.add_flag("--no-files", options.no_files, "Show the summary only");
  command.add_flag("--quiet", options.quiet, "Write the files only; show nothing but what is wrong");
}

}  // namespace

void add_warmup(CLI::App& app, ExitStatus& status) {
  auto options = std::make_shared<WarmupOptions>();
  CLI::App* command =
      app.add_subcommand("warmup", "How it warms up, how long it must soak, what happens when a fan fails");
  add_options(*command, *options);
  command->footer(
      "Times are in seconds or with a unit: 90, 90s, 10min, 1.5h.\n\n"
      "Examples:\n  tuft warmup notebook.yaml --condition use\n"
      "  tuft warmup notebook.yaml --from steady:idle --condition use --fan-fails left@20min\n"
      "  tuft warmup notebook.yaml --from steady:use --power-off 0 --until 2h -o cool-down\n\n"
      "Exit status: 0 followed to its end, 3 bad input, 4 no flow or no start was found, 5 results not "
      "written.");
  command->callback([options, &status] { status = warmup(*options); });
}

}  // namespace tuft::program
