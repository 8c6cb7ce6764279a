// tuft warmup: a condition in time, from cold or from another state, with what goes wrong on the way.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>

#include "solver/network/warm_up.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warmup.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

using network::Happening;
using network::WarmUp;

struct WarmupOptions {
  std::string path, condition, from = "cold", power_off, until, band, out;
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
    plan.happenings.push_back({Happening::Kind::fan_fails, time, fan, true});
  }
  for (const std::string& text : options.loads) {
    const auto [name, time] = read_name_at("--load", text);
    plan.happenings.push_back(
        {Happening::Kind::load, time, find_name("load", name, names_of(content.loads)), true});
  }
  if (!options.power_off.empty())
    plan.happenings.push_back(
        {Happening::Kind::power_off, read_time("--power-off", options.power_off), 0, !options.fans_run_on});
  for (const Happening& happening : plan.happenings)
    if (happening.time > plan.options.until)
      refuse("something is to happen after " + io::elapsed_text(happening.time) + ", but the end is after " +
             io::elapsed_text(plan.options.until) + "; set a later --until");
  return plan;
}

using io::WarmupColumn;

// Adds the tracks as columns; those at `drawn` go into the chart.
void add_columns(io::Warmup& out, WarmupColumn::Kind kind, const std::vector<network::Track>& tracks,
                 const std::vector<int>& drawn) {
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    const bool is_drawn = std::find(drawn.begin(), drawn.end(), static_cast<int>(i)) != drawn.end();
    out.columns.push_back({kind, tracks[i].name, tracks[i].values, is_drawn});
  }
}

void add_rows(io::Warmup& out, const WarmUp& run, const std::vector<int>& tracks, const char* what) {
  for (const int index : tracks) {
    if (index == network::kNoTrack) continue;
    const network::Track& track = io::at(run.course.history.temperature, index);
    const auto hottest = std::max_element(track.values.begin(), track.values.end());
    io::WarmupRow row;
    row.name = track.name;
    row.what = what;
    row.start = track.values.front();
    row.hottest = *hottest;
    row.hottest_at = io::at(out.time, hottest - track.values.begin());
    row.end = track.values.back();
    row.settles = io::at(run.settling.of_temperature, index);
    out.rows.push_back(row);
  }
}

void add_limits(io::Warmup& out, const geometry::Device& device) {
  for (const geometry::Source& source : device.sources) {
    if (source.joints.empty()) continue;
    if (*source.limits.throttles_at > 0.0)
      out.limits.push_back({*source.limits.throttles_at, source.name + " throttles"});
    if (*source.limits.shuts_down_at > 0.0)
      out.limits.push_back({*source.limits.shuts_down_at, source.name + " shuts down"});
  }
  // One line a temperature, however many sources share it.
  for (std::size_t i = 0; i < out.limits.size(); ++i)
    for (std::size_t j = i + 1; j < out.limits.size();)
      if (out.limits[j].temperature == out.limits[i].temperature) {
        const bool throttles = out.limits[i].text.find("throttle") != std::string::npos;
        out.limits[i].text = throttles ? "throttling" : "shutdown";
        out.limits.erase(out.limits.begin() + static_cast<std::ptrdiff_t>(j));
      } else {
        ++j;
      }
}

// A fan that hunts would fill the chart with lines: its turns are drawn while they are few.
void add_moments(io::Warmup& out, const network::Course& course) {
  constexpr std::ptrdiff_t kFewTurns = 6;
  const auto is_turn = [](const network::Event& event) { return event.kind > network::EventKind::shut_down; };
  const bool few = std::count_if(course.events.begin(), course.events.end(), is_turn) <= kFewTurns;
  for (const network::Event& event : course.events)
    out.moments.push_back({event.time, event.text, few || !is_turn(event)});
}

std::vector<int> all_of(std::size_t count) {
  std::vector<int> out(count);
  for (std::size_t i = 0; i < count; ++i) out[i] = static_cast<int>(i);
  return out;
}

void add_series(io::Warmup& out, const WarmUp& run) {
  const network::History& history = run.course.history;
  out.time = history.time;
  std::vector<int> drawn;
  for (const auto* list : {&run.source, &run.skin, &run.zone})
    drawn.insert(drawn.end(), list->begin(), list->end());
  add_columns(out, WarmupColumn::Kind::temperature, history.temperature, drawn);
  add_columns(out, WarmupColumn::Kind::inflow, history.inflow, {});
  add_columns(out, WarmupColumn::Kind::outflow, history.outflow, {});
  add_columns(out, WarmupColumn::Kind::fan_speed, history.fan_speed, all_of(history.fan_speed.size()));
  add_columns(out, WarmupColumn::Kind::power, history.power, all_of(history.power.size()));
  add_rows(out, run, run.source, "source");
  add_rows(out, run, run.part, "part");
  add_rows(out, run, run.fins, "fins");
  add_rows(out, run, run.skin, "skin");
  add_rows(out, run, run.zone, "air");
}

// The warm-up of a case by a plan, as plain data for table, chart and files. @pre it did not fail
io::Warmup warmup_result(const casefile::CaseFile& file, const network::Plan& plan, const WarmUp& run) {
  const geometry::Case& content = file.content;
  const auto& condition = io::at(content.conditions, plan.condition);
  io::Warmup out;
  out.condition = condition.name;
  out.circumstances = io::circumstances(content, condition);
  out.start = plan.from == network::kCold
                  ? "from room temperature, " + io::temperature_text(run.ambient)
                  : "from the steady state of " + study::quoted(io::at(content.conditions, plan.from).name);
  out.device = content.device.name;
  out.case_file = std::filesystem::path(file.path).filename().string();
  out.case_sha256 = io::sha256(file.text);
  out.version = TUFT_VERSION;
  add_series(out, run);
  add_limits(out, content.device);
  add_moments(out, run.course);
  out.steady = run.course.ending == network::Ending::steady;
  out.stable = run.course.growth <= 0.0;
  out.distance = run.course.distance;
  out.soak = run.settling.overall;
  out.since = run.settling.since;
  out.band = plan.band;
  out.flow_share = plan.flow_share;
  out.compared = run.steady.solved;
  out.difference = run.steady.difference;
  out.differs_at = run.steady.place;
  out.only_air = run.only_air;
  out.given = run.course.books.given;
  out.left = run.course.books.left;
  out.stored = run.course.books.stored;
  out.energy_error = run.course.books.error;
  return out;
}

ExitStatus warmup(const WarmupOptions& options) {
  const casefile::CaseFile file = load_case(options.path);
  const network::Plan plan = plan_of(file.content, options);
  const WarmUp run = network::warm_up(file.content, plan);
  const std::string& name = io::at(file.content.conditions, plan.condition).name;
  if (run.course.ending == network::Ending::failed)
    throw Failure(ExitStatus::no_solution,
                  io::printable("no warm-up of " + name + ": " + run.course.message));
  const io::Warmup result = warmup_result(file, plan, run);
  if (!options.quiet) say(io::warmup_text(result, look()) + "\n");
  const auto write = [&](const auto& place) { return io::write_warmup(result, place); };
  const std::string written =
      options.no_files ? ""
                       : write_results_folder(results_place(options.out, options.path, "-warmup"), write);
  if (!options.quiet) say(written + io::fill("", io::kCaution, look().width));
  return ExitStatus::good;
}

void add_options(CLI::App& command, WarmupOptions& options) {
  add_case_argument(command, options.path);
  add_condition_option(command, options.condition);
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
  add_out_option(command, options.out, "-warmup", "-o,--out", "FOLDER");
  command.add_flag("--no-files", options.no_files, "Show the summary only");
  add_quiet_option(command, options.quiet);
}

}  // namespace

void add_warmup(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, warmup, "warmup", "How it warms up, how long it must soak, what happens when a fan fails",
      "Times are in seconds or with a unit: 90, 90s, 10min, 1.5h.\n\n"
      "Examples:\n  tuft warmup notebook.yaml --condition use\n"
      "  tuft warmup notebook.yaml --from steady:idle --condition use --fan-fails left@20min\n"
      "  tuft warmup notebook.yaml --from steady:use --power-off 0 --until 2h -o cool-down\n\n"
      "Exit status: 0 followed to its end, 3 bad input, 4 no flow or no start was found, 5 results not "
      "written.");
  add_options(command, options);
}

}  // namespace tuft::cli
