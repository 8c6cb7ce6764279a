#include "tools/cli/options.hpp"

#include <CLI/CLI.hpp>

#include "geometry/casefile/nearest.hpp"
#include "tools/cli/load.hpp"
#include "tools/figure/png.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace fs = std::filesystem;

CLI::App& add_command(CLI::App& app, const std::string& name, const std::string& about,
                      const std::string& footer, std::function<void()> run) {
  CLI::App* command = app.add_subcommand(name, about);
  command->footer(footer);
  command->callback(std::move(run));
  return *command;
}

void add_value_option(CLI::App& command, const std::string& names, std::string& value,
                      const std::string& type, const std::string& about) {
  command.add_option(names, value, about)->type_name(type);
}

void add_value_option(CLI::App& command, const std::string& names, std::vector<std::string>& values,
                      const std::string& type, const std::string& about) {
  CLI::Option* option = command.add_option(names, values, about + "; may be given several times");
  option->allow_extra_args(false)->type_name(type);
}

void add_case_argument(CLI::App& command, std::string& path) {
  command.add_option("CASE", path, "Case file")->required();
}

CLI::Option* add_units_option(CLI::App& command, geometry::UnitSystem& units) {
  return command
      .add_option_function<std::string>(
          "--units",
          [&units](const std::string& word) {
            const auto found = geometry::kind_called<geometry::UnitSystem>(word);
            const std::vector<std::string> known = geometry::all_words<geometry::UnitSystem>();
            if (!found)
              refuse_unknown("--units: there is no '" + word + "'", casefile::did_you_mean(word, known),
                             known);
            units = *found;
          },
          "What people read the answers in: metric (°C, L/s, m/s, mm; default) or inch (°F, cfm, ft/min, "
          "in); "
          "files for programs keep their units")
      ->type_name("SYSTEM");
}

void add_case_argument(CLI::App& command, CaseArgument& given) {
  add_case_argument(command, given.path);
  add_units_option(command, given.units);
}

void add_condition_option(CLI::App& command, std::string& name) {
  add_value_option(command, "--condition", name, "NAME", "Which condition; default: the first");
}

void add_conditions_option(CLI::App& command, std::vector<std::string>& names) {
  add_value_option(command, "--condition", names, "NAME", "Only this condition");
}

void add_out_option(CLI::App& command, OutOption& out, const std::string& ending) {
  const bool names_condition = command.get_option_no_throw("--condition") != nullptr;
  add_value_option(command, "--out", out.folder, "DIR",
                   "Results folder; default: the case's name with " + ending +
                       (names_condition ? " and the condition you name" : "") + ", in this folder");
  command.add_flag("--fresh", out.fresh, "Remove what earlier runs of tuft wrote to that folder");
}

void add_quiet_option(CLI::App& command, bool& quiet) {
  command.add_flag("--quiet", quiet, "Write the files; print only what is wrong");
}

void add_thorough_option(CLI::App& command, bool& search_states) {
  command.add_flag("--search-states", search_states,
                   "Also search for other steady states by changing tilt and fan speed; takes seconds");
}

void add_section_option(CLI::App& command, const std::string& about, SectionWish& wish) {
  command
      .add_option_function<std::vector<std::string>>(
          "--section",
          [&wish](const std::vector<std::string>& words) {
            wish = {true, words.empty() ? std::string() : words.front()};
          },
          about)
      ->expected(0, 1)
      ->type_name("[POSITION]");
}

double read_option(const char* option, const std::string& text, casefile::Dimension dimension,
                   const std::string& unit) {
  const bool bare =
      !unit.empty() && !text.empty() && text.find_first_not_of("0123456789.") == std::string::npos;
  const casefile::Quantity read = casefile::read_quantity(bare ? text + " " + unit : text, dimension);
  if (!read.ok())
    refuse(std::string(option) + ": " + read.fault + (read.hint.empty() ? std::string() : "; " + read.hint));
  return *read.value;
}

std::optional<int> read_start(const geometry::Case& content, const std::string& text) {
  const std::string steady = "steady:";
  if (text == "cold") return std::nullopt;
  if (text.rfind(steady, 0) == 0) return find_condition(content, text.substr(steady.size()));
  refuse("--from: '" + text + "' must be cold, or steady: and the name of a condition");
}

io::ResultsPlace results_place(const OutOption& out, const std::string& path, const std::string& ending,
                               io::Asked asked) {
  std::string conditions;
  for (const std::string& name : asked.conditions) conditions += " " + name;
  const std::string name = fs::path(path).stem().string() + ending +
                           (conditions.empty() ? "" : "-" + io::file_name_of(conditions));
  return {out.folder.empty() ? name : out.folder, std::move(asked), out.fresh};
}

std::vector<std::string> named(const std::string& condition) {
  if (condition.empty()) return {};
  return {condition};
}

void write_or_fail(const std::function<void()>& write) {
  try {
    write();
  } catch (const io::FolderError& error) {
    throw Failure(ExitStatus::output_not_written, error.what());
  } catch (const figure::PngError& error) {
    throw Failure(ExitStatus::output_not_written, error.what());
  } catch (const io::NotFinite& error) {
    throw Failure(ExitStatus::no_solution, std::string(error.what()) + "; nothing was written");
  }
}

std::string write_results_folder(
    const io::ResultsPlace& place,
    const std::function<std::vector<std::string>(const io::ResultsPlace& place)>& write) {
  std::size_t count = 0;
  write_or_fail([&] { count = write(place).size(); });
  return "Results: " + io::printable(place.path.string()) + " (" + io::counted(count, "file") + ")\n";
}

}  // namespace tuft::cli
