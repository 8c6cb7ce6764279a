// tuft study: how sure each claim is, what it depends on, and what to measure next.
#include <CLI/CLI.hpp>

#include "tools/cli/console.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/cli/sampling.hpp"
#include "tools/cli/world.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/table.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

struct StudyOptions {
  CaseArgument given;
  OutOption out;
  std::vector<std::string> claims;
  SamplingOptions how;
  FieldChoice field;
  bool inputs_only = false;
};

ExitStatus study_case(const StudyOptions& options) {
  const study::World world;
  world.quiet_others();
  casefile::CaseFile file = load_case(options.given, options.inputs_only);
  if (file.content.claims.empty()) {
    say("The file makes no claims.\n");
    return ExitStatus::good;
  }
  const std::vector<int> claims = find_claims(file.content, options.claims);
  file.content.sweeps.clear();  // claims speak of conditions alone
  io::Run run = solve(file, find_conditions(file.content, {}));
  SamplingOptions how = options.how;
  how.field = field_answers(run, claims, options.field.and_none(options.inputs_only), world.speaks());
  how.reasons = how.show_progress = true;
  how.spots = file.spots;
  const io::Uncertainty uncertainty = sample_case(run, claims, how, world);
  run.claims = claim_results(run.content, uncertainty);
  const io::Look style = look();
  say(io::uncertainty_text(run.content, uncertainty, style));
  say_state_warnings(run);
  say("\n" + io::claims_summary(run.claims) + "\n");
  say_filled(sampling_note(run.content, uncertainty));
  if (!world.speaks()) return status_of(run);
  // Claims take the place of conditions here.
  say(write_results_folder(
      results_place(options.out, options.given.path, "-study", {"study", options.claims, {}}),
      [&](const auto& place) { return io::write_study(run, uncertainty, place); }));
  say_filled(io::kCautionLine);
  return status_of(run);
}

}  // namespace

void add_study(CLI::App& app, ExitStatus& status) {
  auto [command, options] = add_command(
      app, status, study_case, "study",
      "The probability of each claim, what it depends on, and what to measure next",
      "Examples:\n  tuft study notebook.yaml --samples 8192\n  mpirun -n 4 tuft study notebook.yaml (where "
      "built with MPI)\n\n"
      "Exit status: as tuft check; 5 results not written.");
  add_case_argument(command, options.given);
  command.add_option("--claims", options.claims, "Only these claims, by their ids")->type_name("ID");
  add_sampling_options(command, "Largest number of samples of the uncertain values", 1 << 20,
                       options.how.samples, options.how.seed);
  add_field_options(command, options.field);
  add_inputs_only_option(command, options.inputs_only)->excludes("--field");
  add_out_option(command, options.out, "-study");
}

}  // namespace tuft::cli
