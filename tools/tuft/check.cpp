// tuft check: a verdict on every claim of a case.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <set>

#include "tools/output/caution.hpp"
#include "tools/output/claim_table.hpp"
#include "tools/output/grid.hpp"
#include "tools/output/state_words.hpp"
#include "tools/output/utf8.hpp"
#include "tools/tuft/commands.hpp"
#include "tools/tuft/console.hpp"
#include "tools/tuft/load.hpp"
#include "tools/tuft/solve.hpp"

namespace tuft::program {
namespace {

std::vector<int> needed_conditions(const geometry::Case& content) {
  std::set<int> needed;
  for (const auto& claim : content.claims) {
    for (const int condition : conditions_of(claim)) needed.insert(condition);
  }
  return {needed.begin(), needed.end()};
}

// A claim that fails outweighs a condition without a solution, and that outweighs a claim nobody can tell.
ExitStatus status_of(const output::Run& run) {
  const auto any = [&](study::Verdict verdict) {
    return std::any_of(run.claims.begin(), run.claims.end(),
                       [verdict](const study::ClaimResult& claim) { return claim.verdict == verdict; });
  };
  if (any(study::Verdict::fails)) return ExitStatus::claim_fails;
  if (!all_solved(run)) return ExitStatus::no_solution;
  return any(study::Verdict::cannot_tell) ? ExitStatus::cannot_tell : ExitStatus::good;
}

ExitStatus check(const std::string& path) {
  casefile::CaseFile file = load_case(path);
  if (file.content.claims.empty()) {
    say("The file makes no claims.\n");
    return ExitStatus::good;
  }
  file.content.sweeps.clear();  // claims speak of conditions alone
  const output::Run run = solve(file, needed_conditions(file.content));
  const output::Look style = look();
  for (const auto& claim : run.claims) say(output::claim_text(run.content, claim, style));
  for (const auto& result : run.conditions) {
    for (const std::string& warning : output::state_warnings(run.content, result))
      say(output::fill("  ! ", output::printable(result.name) + ": " + warning, style.width));
  }
  say("\n" + output::claims_summary(run.claims) + "\n");
  say(output::fill("", output::kCaution, style.width));
  return status_of(run);
}

}  // namespace

void add_check(CLI::App& app, ExitStatus& status) {
  auto path = std::make_shared<std::string>();
  CLI::App* command = app.add_subcommand("check", "Whether the claims of a case hold, and why");
  command->add_option("CASE", *path, "Case file")->required();
  command->footer(
      "Example:\n  tuft check notebook.yaml\n\n"
      "Exit status: 0 all claims hold, 1 a claim fails, 2 none fails but one can't be told, 3 bad input,\n"
      "4 none fails but a condition has no solution.");
  command->callback([path, &status] { status = check(*path); });
}

}  // namespace tuft::program
