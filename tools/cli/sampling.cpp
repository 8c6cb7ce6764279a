#include "tools/cli/sampling.hpp"

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <set>

#include "solver/experiment/room_doubt.hpp"
#include "tools/cli/count_line.hpp"
#include "tools/cli/load.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/uncertainty.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/warnings.hpp"
#include "tools/io/words.hpp"

namespace tuft::cli {
namespace {

constexpr int kReplicates = 16;
constexpr int kFirst = 64;  // points a replicate in the first round

// Why so many uncertain values can't be sampled; empty: they can.
std::string too_many(std::size_t values) {
  if (values <= static_cast<std::size_t>(uncertainty::kMostDimensions)) return "";
  return std::to_string(values) + " values are uncertain, and no more than " +
         std::to_string(uncertainty::kMostDimensions) +
         " can be sampled; give some without a spread (tuft lint --all lists those assumed)";
}

void require_samplable(const geometry::Case& content, const SamplingOptions& options) {
  const std::string fault = too_many(content.inputs.size() + options.field.corrections.size());
  if (!fault.empty()) refuse(fault);
}

// With nothing uncertain there is one device, and no sample to be doubted.
void make_certain(std::vector<experiment::ClaimProbability>& claims) {
  for (experiment::ClaimProbability& claim : claims) {
    if (claim.unsolved > 0.0) continue;
    claim.probability.standard_error = 0.0;
    claim.probability.interval = {claim.probability.value, claim.probability.value};
    claim.settled = true;
  }
}

// Which verdicts more samples might turn; empty: none.
std::string turned_by_more(const geometry::Case& content, const io::Uncertainty& uncertainty) {
  std::vector<std::string> open;
  for (const auto& claim : uncertainty.claims)
    if (!claim.settled && claim.unsolved <= experiment::kMostUnsolved)
      open.push_back(io::at(content.claims, claim.claim).id);
  if (open.empty()) return "";
  return "More samples might still change the verdict on " + io::listed(open) + "; give more with --samples.";
}

// What more samples would change, and what they would not.
std::string more_samples(const geometry::Case& content, const io::Uncertainty& uncertainty) {
  const std::string open = turned_by_more(content, uncertainty);
  if (!open.empty()) return open;
  const bool untold =
      std::any_of(uncertainty.claims.begin(), uncertainty.claims.end(),
                  [](const auto& claim) { return claim.verdict == uncertainty::Verdict::undecided; });
  return untold ? "More samples would change no verdict: what is undecided stays undecided until more is "
                  "known of what it depends on."
                : "More samples would change no verdict.";
}

}  // namespace

int points_for(int samples) {
  int points = 2;
  while (points * kReplicates < samples) points *= 2;
  return points;
}

io::Uncertainty sample_case(const io::Run& run, const std::vector<int>& claims,
                            const SamplingOptions& options, const study::Ranks& ranks) {
  const geometry::Case& content = run.content;
  require_samplable(content, options);
  std::vector<int> all;
  if (options.reasons || options.everywhere)
    for (const auto& result : run.conditions)
      if (result.report.converged) all.push_back(result.condition);
  io::Uncertainty out;
  out.questions = experiment::questions_of(content, claims, all);
  study::Sampler sampler(content, out.questions.conditions, options.field.corrections, run.conditions);
  CountLine line("samples", options.show_progress);
  sampler.set_watch([&line](long done, long whole) { line.show(done, whole); });
  study::Options how;
  how.seed = options.seed;
  how.budget.replicates = kReplicates;
  how.budget.most = points_for(options.samples);
  how.budget.first = std::min(kFirst, how.budget.most);
  how.truths = [&](const std::vector<study::StateSummary>& views) {
    return experiment::truths(content, out.questions, views);
  };
  const study::Ensemble sample = study::run(sampler, how, ranks);
  out.inputs = sample.inputs;
  out.samples = sample.views.size();
  out.replicates = sample.replicates;
  out.seed = options.seed;
  // Every sample counts for the claims whose conditions it solves.
  const std::vector<double> equal(sample.views.size(), 1.0);
  const experiment::Sample solved{sample.views, equal, sample.replicates};
  out.claims = experiment::probabilities(content, out.questions, solved);
  experiment::tell_room_doubt(content, options.field.corrections, options.seed, out.claims);
  if (out.inputs.empty()) make_certain(out.claims);
  if (options.reasons || options.everywhere)
    out.conditions = experiment::ranges(content, out.questions, solved);
  for (const study::FieldCorrection& one : options.field.corrections)
    if (one.weight.shape != uncertainty::Shape::fixed) out.model_conditions.push_back(one.condition);
  out.model = fmt::format("{}", fmt::join(options.field.sentences, "\n"));
  out.shares = experiment::uncertainty_shares(content, out.questions, sampler, sample);
  out.settled = std::all_of(out.claims.begin(), out.claims.end(),
                            [](const experiment::ClaimProbability& claim) { return claim.settled; });
  if (!options.reasons) {
    out.sensitivity = experiment::sensitivity_by_sample(out.shares);
    return out;
  }
  experiment::HangsOnOptions plan;
  plan.seed = options.seed;
  out.sensitivity = experiment::sensitivity(content, out.questions, sampler, sample, plan, ranks);
  uncertainty::InformationGainRule rule;
  rule.seed = options.seed;
  rule.readings = 64;
  rule.most_points = 1024;
  out.suggestions = experiment::suggestions(content, out.questions, sample, by_index(content, run.conditions),
                                            rule, options.spots);
  return out;
}

std::vector<study::ClaimResult> claim_results(const geometry::Case& content,
                                              const io::Uncertainty& uncertainty) {
  std::vector<study::ClaimResult> out;
  for (const auto& claim : uncertainty.claims)
    out.push_back(
        {claim.claim, io::verdict_of(claim), io::probability_sentence(content, uncertainty, claim)});
  return out;
}

std::string sampling_note(const geometry::Case& content, const io::Uncertainty& uncertainty) {
  if (uncertainty.inputs.empty())
    return "No value of the case is uncertain: verdicts are of the device as described.";
  std::string text = io::sample_words(uncertainty) + "; seed " + std::to_string(uncertainty.seed) + ".";
  if (uncertainty.claims.empty()) return text;
  return text + " A claim holds at 95 % or more and fails at 5 % or less. " +
         more_samples(content, uncertainty);
}

std::string short_sampling_note(const geometry::Case& content, const io::Uncertainty& uncertainty) {
  if (uncertainty.inputs.empty()) return sampling_note(content, uncertainty);
  const std::string open = turned_by_more(content, uncertainty);
  return "From " + io::sample_words(uncertainty, true) +
         ". A claim holds at 95 % or more and fails at 5 % or less. " + (open.empty() ? "" : open + " ") +
         "tuft check says why.";
}

CLI::Option* add_samples_option(CLI::App& command, int& samples) {
  return command
      .add_option("--samples", samples,
                  "Largest number of samples for the probabilities; 0: none; default " +
                      std::to_string(kPassingSamples))
      ->check(CLI::Validator(
          [](std::string& given) {
            int number = 0;
            const bool good = CLI::detail::lexical_cast(given, number) &&
                              (number == 0 || (number >= 32 && number <= 1 << 20));
            return good ? std::string() : "must be 0, or from 32 to 1048576, and is " + given;
          },
          ""))
      ->type_name("NUMBER");
}

CLI::Option* add_inputs_only_option(CLI::App& command, bool& inputs_only) {
  return command.add_flag("--inputs-only", inputs_only,
                          "Take the model as exact: only the values of the case are uncertain");
}

namespace {

// The parser itself would take -1 for the largest number there is.
std::string seed_fault(const std::string& word) {
  constexpr std::size_t kMostDigits = 19;  // of which every number fits
  const bool digits = !word.empty() && word.find_first_not_of("0123456789") == std::string::npos;
  if (digits && word.size() <= kMostDigits) return "";
  return "must be a whole number from 0 on with at most 19 digits; found '" + word + "'";
}

}  // namespace

void add_sampling_options(CLI::App& command, const std::string& about, int most, int& samples,
                          std::uint64_t& seed) {
  command.add_option("--samples", samples, fmt::format("{}, 32 to {}; default {}", about, most, samples))
      ->check(CLI::Range(32, most).description(""))
      ->type_name("NUMBER");
  command.add_option("--seed", seed, "Seed of the sampling; default 1")
      ->check(seed_fault)
      ->type_name("NUMBER");
}

void say_state_warnings(const io::Run& run) {
  for (const auto& result : run.conditions)
    for (const auto& list : {io::state_warnings(run.content, result), io::heat_doubts(run, result)})
      for (const std::string& warning : list) say_filled(io::printable(result.name) + ": " + warning, "  ! ");
}

void sample(io::Run& run, int samples, const FieldChoice& field, bool show_progress) {
  if (samples == 0) return;
  if (const std::string fault = too_many(run.content.inputs.size()); !fault.empty()) {
    run.not_sampled = fault + ".";
    return;
  }
  if (!any_solved(run)) return;
  std::vector<int> claims;
  for (const auto& claim : run.claims) claims.push_back(claim.claim);
  SamplingOptions how;
  how.samples = samples;
  how.everywhere = true;
  how.show_progress = show_progress;
  how.field = field_answers(run, claims, field, show_progress);
  run.uncertainty = sample_case(run, claims, how);
  if (!field.later) return;
  const std::vector<int> left = claims_left_to_field(run, claims);
  for (experiment::ClaimProbability& claim : run.uncertainty->claims)
    if (std::find(left.begin(), left.end(), claim.claim) != left.end()) {
      claim.left_to_field = true;
      claim.verdict = uncertainty::Verdict::undecided;
    }
}

// A claim that fails outweighs a condition without a solution, and that outweighs a claim nobody can tell.
ExitStatus status_of(const io::Run& run) {
  const auto any = [&](study::Verdict verdict) {
    return std::any_of(run.claims.begin(), run.claims.end(),
                       [verdict](const study::ClaimResult& claim) { return claim.verdict == verdict; });
  };
  if (any(study::Verdict::fails)) return ExitStatus::claim_fails;
  if (!all_solved(run)) return ExitStatus::no_solution;
  return any(study::Verdict::undecided) ? ExitStatus::undecided : ExitStatus::good;
}

}  // namespace tuft::cli
