// Options that several commands have, said once; what is typed behind them, read and checked; and results
// folders.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "geometry/casefile/quantity.hpp"
#include "geometry/device/condition.hpp"
#include "tools/cli/console.hpp"
#include "tools/io/results_place.hpp"

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace tuft::cli {

/// Adds a command that runs a function; `footer` stands below its options.
CLI::App& add_command(CLI::App& app, const std::string& name, const std::string& about,
                      const std::string& footer, std::function<void()> run);

/// The same with options of its own, which the parser fills; `run` leaves the exit status.
template <typename Options>
std::pair<CLI::App&, Options&> add_command(CLI::App& app, ExitStatus& status,
                                           ExitStatus (*run)(const Options&), const std::string& name,
                                           const std::string& about, const std::string& footer) {
  const auto options = std::make_shared<Options>();
  CLI::App& command = add_command(app, name, about, footer, [=, &status] { status = run(*options); });
  return {command, *options};
}

/// An option with a text behind it, which help calls `type`; a list of texts may be given several times.
void add_value_option(CLI::App& command, const std::string& names, std::string& value,
                      const std::string& type, const std::string& about);
void add_value_option(CLI::App& command, const std::string& names, std::vector<std::string>& values,
                      const std::string& type, const std::string& about);

/// A case as it was named, and the units that its answers are to be read in.
struct CaseArgument {
  std::string path;
  geometry::UnitSystem units = geometry::UnitSystem::metric;
};

/// --units.
CLI::Option* add_units_option(CLI::App& command, geometry::UnitSystem& units);

/// CASE, with which most commands begin; with --units, or without where nothing is computed.
void add_case_argument(CLI::App& command, CaseArgument& given);
void add_case_argument(CLI::App& command, std::string& path);

/// --condition: one of them, or several.
void add_condition_option(CLI::App& command, std::string& name);
void add_conditions_option(CLI::App& command, std::vector<std::string>& names);

/// Where results are to go, as typed.
struct OutOption {
  std::string folder;  ///< empty: named after the case
  bool fresh = false;  ///< an earlier results folder goes, with all of its files
};

/// --out and --fresh. Without --out the folder is named after the case, with `ending` and the conditions
/// named.
void add_out_option(CLI::App& command, OutOption& out, const std::string& ending);

/// --quiet, --search-states.
void add_quiet_option(CLI::App& command, bool& quiet);
void add_thorough_option(CLI::App& command, bool& search_states);

/// A slice through the device, where it was asked for.
struct SectionWish {
  bool given = false;
  std::string at;  ///< as typed; empty: as the solver chooses
};

/// --section, with or without a place.
void add_section_option(CLI::App& command, const std::string& about, SectionWish& wish);

/// A quantity behind an option [SI]; a bare number has the unit, where one is given. Throws Failure
/// (bad_input).
double read_option(const char* option, const std::string& text, casefile::Dimension dimension,
                   const std::string& unit = "");

/// The condition in whose steady state --from starts, "steady:NAME"; nothing: cold. Throws Failure
/// (bad_input).
std::optional<int> read_start(const geometry::Case& content, const std::string& text);

/// Where results go: where --out says, or here, named after the case, with the ending and the conditions that
/// were named: what was asked for one condition never replaces what was asked for others.
io::ResultsPlace results_place(const OutOption& out, const std::string& path, const std::string& ending,
                               io::Asked asked);
/// The conditions that were named, for io::Asked: one or none.
std::vector<std::string> named(const std::string& condition);

/// Runs `write`; what writers throw becomes a Failure.
void write_or_fail(const std::function<void()>& write);

/// Writes results and returns the line that says where they are. `write` returns the names of the files.
std::string write_results_folder(
    const io::ResultsPlace& place,
    const std::function<std::vector<std::string>(const io::ResultsPlace& place)>& write);

}  // namespace tuft::cli
