// tuft warmup: a condition in time, from cold or from another state, with what goes wrong on the way.
#include <CLI/CLI.hpp>
#include <filesystem>

#include "solver/network/warm_up.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warmup.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

using network::ScheduledEvent;

struct WarmupOptions {
  CaseArgument given;
  std::string condition, from = "cold", power_off, until, band;
  OutOption out;
  std::vector<std::string> failing, loads;
  bool fans_run_on = false, no_files = false, quiet = false;
};

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

network::Plan plan_of(const geometry::Case& content, const WarmupOptions& options) {
  network::Plan plan;
  plan.condition = chosen_condition(content, options.condition, " to warm up");
  plan.from = read_start(content, options.from).value_or(network::kCold);
  if (!options.band.empty()) {
    plan.band = read_option("--band", options.band, casefile::Dimension::difference, "K");
    if (!(plan.band > 0.0)) refuse("--band: must be above 0 K");
  }
  if (!options.until.empty()) plan.options.until = read_time("--until", options.until);
  if (!(plan.options.until > 0.0)) refuse("--until: must lie after the start");
  for (const std::string& text : options.failing) {
    const auto [name, time] = read_name_at("--fan-fails", text);
    const int fan = find_name("fan", name, names_of(content.device.fans));
    plan.events.push_back({ScheduledEvent::Kind::fan_fails, time, fan, true});
  }
  for (const std::string& text : options.loads) {
    const auto [name, time] = read_name_at("--load", text);
    plan.events.push_back(
        {ScheduledEvent::Kind::load, time, find_name("load", name, names_of(content.loads)), true});
  }
  if (!options.power_off.empty())
    plan.events.push_back({ScheduledEvent::Kind::power_off, read_time("--power-off", options.power_off), 0,
                           !options.fans_run_on});
  for (const ScheduledEvent& event : plan.events)
    if (event.time > plan.options.until)
      refuse("something is to happen after " + io::elapsed_text(event.time) + ", but the end is after " +
             io::elapsed_text(plan.options.until) + "; set a later --until");
  return plan;
}

io::ResultsPlace place_of(const WarmupOptions& options) {
  io::Asked asked{"warmup", named(options.condition), {}};
  if (options.from != "cold") asked.with.push_back("--from " + options.from);
  for (const std::string& fan : options.failing) asked.with.push_back("--fan-fails " + fan);
  for (const std::string& load : options.loads) asked.with.push_back("--load " + load);
  if (!options.power_off.empty()) asked.with.push_back("--power-off " + options.power_off);
  return results_place(options.out, options.given.path, "-warmup", std::move(asked));
}

ExitStatus warmup(const WarmupOptions& options) {
  const casefile::CaseFile file = load_case(options.given);
  const network::Plan plan = plan_of(file.content, options);
  io::WarmupRun run{file.content,
                    plan,
                    network::warm_up(file.content, plan),
                    std::filesystem::path(file.path).filename().string(),
                    io::sha256(file.text),
                    TUFT_VERSION};
  const network::TransientResult& transient = run.warmup.transient;
  if (transient.ending == network::Ending::failed)
    throw Failure(ExitStatus::no_solution,
                  io::printable("no warm-up of " + io::condition_of(run).name + ": " + transient.message));
  if (run.warmup.settling.known && run.warmup.capacities == network::Capacities::known)
    run.soak = network::soak_interval(file.content, plan);
  if (!options.quiet) say(io::warmup_text(run, look()) + "\n");
  const auto write = [&](const auto& place) { return io::write_warmup(run, place); };
  const std::string written = options.no_files ? "" : write_results_folder(place_of(options), write);
  if (!options.quiet) say(written + io::fill("", io::kCautionLine, look().width));
  return ExitStatus::good;
}

void add_options(CLI::App& command, WarmupOptions& options) {
  add_case_argument(command, options.given);
  add_condition_option(command, options.condition);
  add_value_option(command, "--from", options.from, "START",
                   "Start: cold (default), or steady:NAME, a condition's steady state");
  add_value_option(command, "--fan-fails", options.failing, "NAME@TIME", "A fan stops for good then");
  add_value_option(command, "--load", options.loads, "NAME@TIME", "Another load from then on");
  add_value_option(command, "--power-off", options.power_off, "TIME",
                   "From that time no source gives heat, and the fans stand still");
  command.add_flag("--fans-run-on", options.fans_run_on,
                   "With --power-off: the fans continue as the load says");
  add_value_option(command, "--until", options.until, "TIME", "Latest end of the transient; default: 4 h");
  add_value_option(command, "--band", options.band, "K",
                   "A temperature is settled when it stays this close to its end value; default: 1 K");
  add_out_option(command, options.out, "-warmup");
  command.add_flag("--no-files", options.no_files, "Print the summary; write no files");
  add_quiet_option(command, options.quiet);
}

}  // namespace

void add_warmup(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, warmup, "warmup",
      "How the device warms up, how long it must soak, and what happens when a fan fails",
      "Times are in seconds or with a unit: 90, 90s, 10min, 1.5h.\n\n"
      "Examples:\n  tuft warmup notebook.yaml --condition use\n"
      "  tuft warmup notebook.yaml --from steady:idle --condition use --fan-fails left@20min\n"
      "  tuft warmup notebook.yaml --from steady:use --power-off 0 --until 2h --out cool-down\n\n"
      "Exit status: 0 computed to its end, 3 bad input, 4 no flow or no start was found, 5 results not "
      "written.");
  add_options(command, options);
}

}  // namespace tuft::cli
