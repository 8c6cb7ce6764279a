#include "tools/cli/solve.hpp"

#include <algorithm>
#include <filesystem>

#include "solver/study/predict.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::program {
namespace {

bool contains(const std::vector<int>& list, int value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

std::vector<study::ClaimResult> judge_claims(const geometry::Case& content,
                                             const std::vector<int>& conditions,
                                             const std::vector<study::ConditionResult>& results) {
  const std::vector<study::ConditionResult> indexed = by_index(content, results);
  std::vector<study::ClaimResult> verdicts;
  for (std::size_t i = 0; i < content.claims.size(); ++i) {
    const std::vector<int> needed = conditions_of(content.claims[i]);
    const bool solved =
        std::all_of(needed.begin(), needed.end(), [&](int c) { return contains(conditions, c); });
    if (solved) verdicts.push_back(study::judge(content, static_cast<int>(i), indexed));
  }
  return verdicts;
}

}  // namespace

std::vector<study::ConditionResult> by_index(const geometry::Case& content,
                                             const std::vector<study::ConditionResult>& results) {
  std::vector<study::ConditionResult> indexed(content.conditions.size());
  for (std::size_t i = 0; i < indexed.size(); ++i) {
    indexed[i].condition = static_cast<int>(i);
    indexed[i].name = content.conditions[i].name;
    indexed[i].report.reason = "not asked for";
  }
  for (const auto& result : results) indexed[static_cast<std::size_t>(result.condition)] = result;
  return indexed;
}

output::Run solve(const casefile::CaseFile& file, const std::vector<int>& conditions,
                  study::StateSearch search) {
  output::Run run;
  run.content = file.content;
  run.assumptions = file.assumptions;
  run.case_file = std::filesystem::path(file.path).filename().string();
  run.case_sha256 = output::sha256(file.text);
  run.case_text = file.text;
  run.version = TUFT_VERSION;
  run.conditions = study::predict_these(run.content, conditions, search);
  for (std::size_t i = 0; i < run.content.sweeps.size(); ++i) {
    if (!contains(conditions, run.content.sweeps[i].condition)) continue;
    run.sweeps.push_back(study::predict_sweep(run.content, static_cast<int>(i)));
  }
  run.claims = judge_claims(run.content, conditions, run.conditions);
  return run;
}

bool all_solved(const output::Run& run) {
  const auto solved = [](const study::ConditionResult& result) { return result.report.converged; };
  return std::all_of(run.conditions.begin(), run.conditions.end(), solved) &&
         std::all_of(run.sweeps.begin(), run.sweeps.end(), [&](const study::SweepResult& sweep) {
           return std::all_of(sweep.points.begin(), sweep.points.end(),
                              [&](const study::SweepPoint& point) { return solved(point.result); });
         });
}

}  // namespace tuft::program
