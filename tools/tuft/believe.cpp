#include "tools/tuft/believe.hpp"

#include <algorithm>
#include <set>

#include "tools/output/words.hpp"
#include "tools/tuft/solve.hpp"

namespace tuft::program {
namespace {

constexpr int kReplicates = 16;
constexpr int kFirst = 64;  // points a replicate in the first round

std::vector<int> doubted_conditions(const std::vector<ensemble::FlowFactor>& factors) {
  std::set<int> found;
  for (const auto& factor : factors)
    for (const auto& where : factor.where) found.insert(where.condition);
  return {found.begin(), found.end()};
}

// A field is of one condition: what it says of the network there is not known of the others.
std::string model_words(const geometry::Case& content, const std::vector<int>& asked,
                        const std::vector<int>& doubted, std::size_t flows) {
  if (doubted.empty()) return "";
  std::vector<std::string> with, without;
  for (const int condition : doubted)
    with.push_back(content.conditions[static_cast<std::size_t>(condition)].name);
  for (const int condition : asked)
    if (!std::binary_search(doubted.begin(), doubted.end(), condition))
      without.push_back(content.conditions[static_cast<std::size_t>(condition)].name);
  std::string text = output::counted(flows, "flow") + " in " + output::listed(with) +
                     " may be off by as much as the network and the field differ there.";
  if (without.empty()) return text;
  return text + " No field speaks of " + output::listed(without) + ": what is said of " +
         (without.size() == 1 ? "it" : "them") + " carries no doubt of the model.";
}

}  // namespace

int points_for(int samples) {
  int points = 2;
  while (points * kReplicates < samples) points *= 2;
  return points;
}

output::Doubt believe(const output::Run& run, const std::vector<int>& claims, const BelieveOptions& options,
                      const ranks::Ranks& ranks) {
  const geometry::Case& content = run.content;
  std::vector<int> all;
  if (options.reasons)
    for (const auto& result : run.conditions)
      if (result.report.converged) all.push_back(result.condition);
  output::Doubt out;
  out.questions = belief::questions_of(content, claims, all);
  const ensemble::Sampler sampler(content, out.questions.conditions, options.factors);
  ensemble::Options how;
  how.seed = options.seed;
  how.budget.replicates = kReplicates;
  how.budget.most = points_for(options.samples);
  how.budget.first = std::min(kFirst, how.budget.most);
  how.factors = options.factors;
  how.truths = [&](const std::vector<study::View>& views) {
    return belief::truths(content, out.questions, views);
  };
  const ensemble::Ensemble sample = ensemble::run(sampler, how, ranks);
  out.inputs = sample.inputs;
  out.samples = sample.views.size();
  out.replicates = sample.replicates;
  out.seed = options.seed;
  // Every sample counts for the claims whose conditions it solves.
  const std::vector<double> equal(sample.views.size(), 1.0);
  out.claims = belief::beliefs(content, out.questions, {sample.views, equal, sample.replicates});
  out.model_conditions = doubted_conditions(options.factors);
  out.model = model_words(content, out.questions.conditions, out.model_conditions, options.factors.size());
  out.settled = std::all_of(out.claims.begin(), out.claims.end(),
                            [](const belief::ClaimBelief& claim) { return claim.settled; });
  if (!options.reasons) return out;
  belief::HangsOnOptions plan;
  plan.seed = options.seed;
  out.hangs_on = belief::hangs_on(content, out.questions, sampler, sample, plan, ranks);
  doubt::WorthRule rule;
  rule.seed = options.seed;
  rule.readings = 64;
  rule.most_points = 1024;
  out.suggestions = belief::suggestions(content, out.questions, sample, by_index(content, run.conditions),
                                        rule, options.spots);
  return out;
}

std::vector<study::ClaimResult> claim_results(const geometry::Case& content, const output::Doubt& doubt) {
  std::vector<study::ClaimResult> out;
  for (const auto& claim : doubt.claims)
    out.push_back({claim.claim, output::verdict_of(claim), output::belief_sentence(content, doubt, claim)});
  return out;
}

std::string sampling_note(const output::Doubt& doubt) {
  return output::counted(doubt.samples, "sample") + " of " + output::counted(doubt.inputs.size(), "value") +
         " in doubt, seed " + std::to_string(doubt.seed) +
         "; a claim holds from 95 % on and fails up to 5 %. " +
         (doubt.settled ? "Every verdict is settled."
                        : "Not every verdict is settled: --samples takes more.");
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

}  // namespace tuft::program
