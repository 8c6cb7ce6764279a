// tuft study: how sure each claim is, what it depends on, and what to measure next.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>

#include "tools/io/claim_table.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"
#include "tools/cli/world.hpp"
#include "tools/cli/believe.hpp"
#include "tools/cli/commands.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/field_doubt.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/solve.hpp"

namespace tuft::program {
namespace {

struct StudyOptions {
  std::string path, out;
  std::vector<std::string> claims;
  int samples = 4096;
  std::uint64_t seed = 1;
  std::string field;
};

ExitStatus study_case(const StudyOptions& options) {
  const ranks::World world;
  world.quiet_others();
  casefile::CaseFile file = load_case(options.path);
  if (file.content.claims.empty()) {
    say("The file makes no claims.\n");
    return ExitStatus::good;
  }
  const std::vector<int> claims = find_claims(file.content, options.claims);
  file.content.sweeps.clear();  // claims speak of conditions alone
  output::Run run = solve(file, find_conditions(file.content, {}));
  BelieveOptions how;
  how.samples = options.samples;
  how.seed = options.seed;
  if (!options.field.empty()) how.factors = read_field_doubt(run.content, options.field);
  how.reasons = true;
  how.spots = file.spots;
  const output::Doubt doubt = believe(run, claims, how, world);
  run.claims = claim_results(run.content, doubt);
  const output::Look style = look();
  say(output::doubt_text(run.content, doubt, style));
  for (const auto& result : run.conditions) {
    for (const std::string& warning : output::state_warnings(run.content, result))
      say(output::fill("  ! ", output::printable(result.name) + ": " + warning, style.width));
  }
  say("\n" + output::claims_summary(run.claims) + "\n");
  say(output::fill("", sampling_note(run.content, doubt), style.width));
  const std::filesystem::path place =
      options.out.empty() ? std::filesystem::path(options.path).stem().string() + "-study" : options.out;
  if (!world.speaks()) return status_of(run);
  try {
    const std::size_t count = output::write_study(run, doubt, place).size();
    say("Results: " + output::printable(place.string()) + " (" + output::counted(count, "file") + ")\n");
  } catch (const output::FolderError& error) {
    throw Failure(ExitStatus::output_not_written, error.what());
  }
  say(output::fill("", output::kCaution, style.width));
  return status_of(run);
}

}  // namespace

void add_study(CLI::App& app, ExitStatus& status) {
  auto options = std::make_shared<StudyOptions>();
  CLI::App* command =
      app.add_subcommand("study", "How sure each claim is, what it depends on, and what to measure next");
  command->add_option("CASE", options->path, "Case file")->required();
  command->add_option("--claims", options->claims, "Only these claims, by their ids")->type_name("ID");
  command->add_option("--samples", options->samples, "Most samples of the values in doubt; default 4096")
      ->check(CLI::Range(32, 1 << 20));
  command->add_option("--seed", options->seed, "Seed of the sampling; default 1");
  command
      ->add_option("--field", options->field,
                   "Folder that tuft field has written: where its answer differs, that adds to the doubt")
      ->type_name("DIR");
  command->add_option("--out", options->out, "Results folder; default: the case's name with -study, here")
      ->type_name("DIR");
  command->footer(
      "Examples:\n  tuft study notebook.yaml --samples 8192\n  mpirun -n 4 tuft study notebook.yaml (where "
      "built with MPI)\n\n"
      "Exit status: as tuft check; 5 results not written.");
  command->callback([options, &status] { status = study_case(*options); });
}

}  // namespace tuft::program
