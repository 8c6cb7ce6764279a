// tuft compare: what changes from one condition to another.
#include <CLI/CLI.hpp>

#include "geometry/device/lists.hpp"
#include "solver/study/predict.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/table.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

struct CompareOptions {
  CaseArgument given;
  std::string other, from, to, condition;
};

// A condition of a case, solved.
struct Side {
  const casefile::CaseFile* file = nullptr;
  study::ConditionResult result;
  const geometry::Case& content() const { return file->content; }
};

study::ConditionResult solved(const geometry::Case& content, int condition) {
  study::ConditionResult result = study::predict(content, condition);
  fail_unless_solved(result);
  return result;
}

// "Of 5 vents 2 change their role (a, b) and 1 more changes size (c)."
std::string summary(const geometry::Case& content, const std::vector<study::VentChange>& changes) {
  std::vector<std::string> roles;
  std::vector<std::string> sizes;
  for (const auto& change : changes) {
    const auto& name = io::at(content.device.vents, change.vent).name;
    if (change.role_changes) {
      roles.push_back(io::printable(name));
    } else if (change.size_changes) {
      sizes.push_back(io::printable(name));
    }
  }
  if (roles.empty() && sizes.empty())
    return "No vent changes its role, and no flow changes by a fifth or more.";
  std::string text = roles.empty() ? "No vent changes its role" : "The role changes at " + io::listed(roles);
  if (!sizes.empty()) text += "; the flow changes by a fifth or more at " + io::listed(sizes);
  return text + ".";
}

Side side_of(const casefile::CaseFile& file, const std::string& condition) {
  return {&file, solved(file.content, find_condition(file.content, condition))};
}

void say_sides(const Side& from, const Side& to) {
  const bool two = from.file != to.file;
  for (const auto& [label, side] : {std::pair{"from ", &from}, std::pair{"to   ", &to}}) {
    const auto& condition = io::at(side->content().conditions, side->result.condition);
    say_filled(io::printable(side->result.name) + (two ? " of " + io::printable(side->file->path) : "") +
                   ": " + io::circumstances(side->content(), condition),
               label);
  }
}

std::vector<std::string> vents_without(const geometry::Device& device, const geometry::Device& other) {
  std::vector<std::string> names;
  const auto has = [&](const std::string& name) {
    return geometry::find_index(other.vents, [&](const geometry::Vent& vent) {
             return !vent.is_leak && vent.name == name;
           }) >= 0;
  };
  for (const geometry::Vent& vent : device.vents)
    if (!vent.is_leak && !has(vent.name)) names.push_back(io::printable(vent.name));
  return names;
}

// What only one of two devices has: matched are names alone.
void say_missing(const Side& from, const Side& to) {
  for (const auto& [side, other] : {std::pair{&from, &to}, std::pair{&to, &from}}) {
    const auto names = vents_without(side->content().device, other->content().device);
    if (!names.empty())
      say_filled("only in " + io::printable(side->file->path) +
                     " (vents are matched by their names): " + io::listed(names),
                 "  ");
  }
}

ExitStatus compare_sides(const Side& from, const Side& to) {
  const auto changes = study::compare(from.content(), from.result, to.content(), to.result);
  const io::Look style = look();
  say_sides(from, to);
  if (changes.empty())
    say(io::fill("", "No vent of one has the name of a vent of the other.", style.width) + "\n");
  else
    say(io::fill("", summary(from.content(), changes), style.width) + "\n" +
        io::changes_text(from.content(), from.result, to.result, changes, style));
  say_missing(from, to);
  const std::string warm = io::temperatures_text(from.content(), from.result, to.content(), to.result, style);
  if (!warm.empty()) say("\n" + warm);
  return ExitStatus::good;
}

// The condition's name on one side: --condition is that of both.
std::string name_for(const std::string& own, const std::string& both, const char* option) {
  if (!own.empty()) return own;
  if (both.empty())
    refuse(std::string("compare needs the conditions: --from and --to, or with two files --condition (") +
           option + " is missing)");
  return both;
}

ExitStatus compare(const CompareOptions& options) {
  const bool two = !options.other.empty();
  if (!options.condition.empty() && !two)
    refuse("--condition names the condition of two files; within one file say --from and --to");
  if (!options.condition.empty() && !options.from.empty() && !options.to.empty())
    refuse("--condition is not needed where --from and --to are given");
  const std::string first = name_for(options.from, options.condition, "--from");
  const std::string second = name_for(options.to, options.condition, "--to");
  const casefile::CaseFile file = load_case(options.given);
  if (!two) return compare_sides(side_of(file, first), side_of(file, second));
  const casefile::CaseFile other = load_case({options.other, options.given.units});
  return compare_sides(side_of(file, first), side_of(other, second));
}

}  // namespace

void add_compare(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, compare, "compare",
      "Which vents change from one condition, or one device, to another, and why; temperatures beside",
      "Examples:\n  tuft compare notebook.yaml --from use --to bench\n"
      "  tuft compare notebook.yaml other.yaml --condition use\n\n"
      "Exit status: 0 compared, 3 bad input, 4 a condition without a solution.");
  add_case_argument(command, options.given);
  command.add_option("OTHER", options.other, "A second case file, whose vents are matched by their names");
  command.add_option("--from", options.from, "Condition to start from, of the first file")->type_name("NAME");
  command.add_option("--to", options.to, "Condition to look at, of the last file")->type_name("NAME");
  command.add_option("--condition", options.condition, "Condition of this name in both files")
      ->type_name("NAME");
}

}  // namespace tuft::cli
