// tuft check: a verdict on every claim of a case.
#include <CLI/CLI.hpp>
#include <set>

#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/sampling.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/table.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

struct CheckOptions {
  CaseArgument given;
  bool nominal = false;
  SamplingOptions how;
  FieldChoice field;
  bool inputs_only = false;
};

std::vector<int> needed_conditions(const geometry::Case& content) {
  std::set<int> needed;
  for (const auto& claim : content.claims)
    for (const int condition : conditions_of(claim)) needed.insert(condition);
  return {needed.begin(), needed.end()};
}

// What is seen of the claim in the case as written, above what is known of it.
void say_probabilities(io::Run& run, const CheckOptions& options) {
  SamplingOptions how = options.how;
  const std::vector<int> claims = find_claims(run.content, {});
  how.field = field_answers(run, claims, options.field.and_none(options.inputs_only), true);
  how.show_progress = true;
  const io::Uncertainty uncertainty = sample_case(run, claims, how);
  std::vector<study::ClaimResult> results = claim_results(run.content, uncertainty);
  for (std::size_t c = 0; c < results.size(); ++c)
    results[c].because = run.claims[c].because + ". " + results[c].because;
  run.claims = std::move(results);
  const io::Look style = look();
  for (const auto& claim : run.claims) say(io::claim_text(run.content, claim, style));
  say("\n" + io::fill("", sampling_note(run.content, uncertainty), style.width));
  if (!uncertainty.model.empty()) say("\n" + io::model_text(uncertainty, style));
}

ExitStatus check(const CheckOptions& options) {
  casefile::CaseFile file = load_case(options.given, options.inputs_only);
  if (file.content.claims.empty()) {
    say("The file makes no claims.\n");
    return ExitStatus::good;
  }
  file.content.sweeps.clear();  // claims speak of conditions alone
  io::Run run = solve(file, needed_conditions(file.content));
  const io::Look style = look();
  if (options.nominal)
    for (const auto& claim : run.claims) say(io::claim_as_written_text(run.content, claim, style));
  else
    say_probabilities(run, options);
  say_state_warnings(run);
  const std::string summary = options.nominal
                                  ? io::summary_as_written(run.claims) +
                                        " No probabilities were asked for; leave out --nominal to get them."
                                  : io::claims_summary(run.claims);
  say("\n" + io::fill("", summary, style.width));
  say_filled(io::kCautionLine);
  return status_of(run);
}

}  // namespace

void add_check(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, check, "check", "Whether the claims of a case hold, with what probability, and why",
      "Example:\n  tuft check notebook.yaml\n\n"
      "Exit status: 0 all claims hold, 1 a claim fails, 2 none fails but one is undecided, 3 bad input,\n"
      "4 none fails but a condition has no solution.");
  add_case_argument(command, options.given);
  command.add_flag("--nominal", options.nominal,
                   "Judge the claims with the values as written, without probabilities");
  add_sampling_options(command, "Largest number of samples of the uncertain values", 1 << 20,
                       options.how.samples, options.how.seed);
  add_field_options(command, options.field);
  add_inputs_only_option(command, options.inputs_only)->excludes("--field");
}

}  // namespace tuft::cli
