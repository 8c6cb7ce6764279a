// tuft compare: what changes from one condition to another.
#include <CLI/CLI.hpp>

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
  std::string path, from, to;
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

ExitStatus compare(const CompareOptions& options) {
  const casefile::CaseFile file = load_case(options.path);
  const geometry::Case& content = file.content;
  const int first = find_condition(content, options.from);
  const int second = find_condition(content, options.to);
  const auto from = solved(content, first), to = solved(content, second);
  const auto changes = study::compare(content, from, to);
  const io::Look style = look();
  for (const auto& [label, result] : {std::pair{"from ", &from}, std::pair{"to   ", &to}}) {
    const auto& condition = io::at(content.conditions, result->condition);
    say_filled(io::printable(result->name) + ": " + io::circumstances(content, condition), label);
  }
  say(io::fill("", summary(content, changes), style.width) + "\n");
  say(io::changes_text(content, from, to, changes, style));
  return ExitStatus::good;
}

}  // namespace

void add_compare(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, compare, "compare", "Which vents change from one condition to another, and why",
      "Example:\n  tuft compare notebook.yaml --from use --to bench\n\n"
      "Exit status: 0 compared, 3 bad input, 4 a condition without a solution.");
  add_case_argument(command, options.path);
  command.add_option("--from", options.from, "Condition to start from")->required()->type_name("NAME");
  command.add_option("--to", options.to, "Condition to look at")->required()->type_name("NAME");
}

}  // namespace tuft::cli
