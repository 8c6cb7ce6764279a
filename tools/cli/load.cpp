#include "tools/cli/load.hpp"

#include <filesystem>
#include <set>

#include "geometry/casefile/nearest.hpp"
#include "geometry/device/inputs.hpp"
#include "tools/cli/console.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::cli {
namespace {

std::string ended(std::string text) {
  if (text.empty() || text.back() != '\n') text += '\n';
  return text;
}

// Indices of those named, or all when none is; rising, each once.
std::vector<int> find_names(const char* kind, const std::vector<std::string>& names,
                            const std::vector<std::string>& known) {
  std::set<int> wanted;
  for (const std::string& name : names.empty() ? known : names) wanted.insert(find_name(kind, name, known));
  return {wanted.begin(), wanted.end()};
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

void show_warnings(const casefile::ReadResult& read) {
  for (const auto& warning : read.warnings) complain(ended(casefile::format(warning, read.file.text)));
}

std::string error_text(const std::vector<casefile::Diagnostic>& errors, const std::string& file) {
  std::string text;
  for (const auto& error : errors) text += ended(casefile::format(error, file));
  return text;
}

std::string error_text(const casefile::ReadResult& read) { return error_text(read.errors, read.file.text); }

casefile::CaseFile load_case(const CaseArgument& given) {
  casefile::ReadResult read = casefile::read_case(given.path);
  show_warnings(read);
  if (!read.errors.empty()) throw Failure(ExitStatus::bad_input, error_text(read));
  read.file.content.units = given.units;
  return std::move(read.file);
}

casefile::CaseFile load_case(const CaseArgument& given, bool inputs_only) {
  casefile::CaseFile file = load_case(given);
  if (inputs_only) geometry::trust_laws(file.content);
  return file;
}

int find_name(const std::string& kind, const std::string& name, const std::vector<std::string>& known) {
  const auto found = std::find(known.begin(), known.end(), name);
  if (found != known.end()) return static_cast<int>(found - known.begin());
  if (known.empty()) refuse("the case has no " + kind + " at all, so no '" + name + "'");
  refuse_unknown("the case has no " + kind + " '" + name + "'", casefile::did_you_mean(name, known), known,
                 "the file has: ");
}

int find_condition(const geometry::Case& content, const std::string& name) {
  return find_name("condition", name, names_of(content.conditions));
}

int chosen_condition(const geometry::Case& content, const std::string& name, const std::string& what) {
  if (content.conditions.empty()) refuse("the case has no condition" + what);
  return name.empty() ? 0 : find_condition(content, name);
}

int find_vent(const geometry::Case& content, const std::string& name) {
  return find_name("vent", name, names_of(content.device.vents));
}

std::vector<std::string> claim_ids(const geometry::Case& content) {
  std::vector<std::string> ids;
  for (const auto& claim : content.claims) ids.push_back(claim.id);
  return ids;
}

std::vector<int> find_claims(const geometry::Case& content, const std::vector<std::string>& ids) {
  return find_names("claim", ids, claim_ids(content));
}

std::vector<int> find_conditions(const geometry::Case& content, const std::vector<std::string>& names) {
  return find_names("condition", names, names_of(content.conditions));
}

std::vector<study::ConditionResult> by_index(const geometry::Case& content,
                                             const std::vector<study::ConditionResult>& results) {
  std::vector<study::ConditionResult> indexed(content.conditions.size());
  for (std::size_t i = 0; i < indexed.size(); ++i) {
    indexed[i].condition = static_cast<int>(i);
    indexed[i].name = content.conditions[i].name;
    indexed[i].report.reason = "not asked for";
  }
  for (const auto& result : results) indexed[result.condition] = result;
  return indexed;
}

io::Run solve(const casefile::CaseFile& file, const std::vector<int>& conditions, study::StateSearch search) {
  io::Run run;
  run.content = file.content;
  run.assumptions = file.assumptions;
  run.expected = file.expected;
  run.case_file = std::filesystem::path(file.path).filename().string();
  run.case_sha256 = io::sha256(file.text);
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

void refuse_unsolved(const std::string& condition, const std::string& reason) {
  throw Failure(ExitStatus::no_solution,
                io::printable("condition '" + condition + "' has no solution: " + reason));
}

void fail_unless_solved(const study::ConditionResult& result) {
  if (!result.report.converged) refuse_unsolved(result.name, result.report.reason);
}

bool any_solved(const io::Run& run) {
  return std::any_of(run.conditions.begin(), run.conditions.end(),
                     [](const study::ConditionResult& result) { return result.report.converged; });
}

bool all_solved(const io::Run& run) {
  const auto solved = [](const study::ConditionResult& result) { return result.report.converged; };
  return std::all_of(run.conditions.begin(), run.conditions.end(), solved) &&
         std::all_of(run.sweeps.begin(), run.sweeps.end(), [&](const study::SweepResult& sweep) {
           return std::all_of(sweep.points.begin(), sweep.points.end(),
                              [&](const study::SweepPoint& point) { return solved(point.result); });
         });
}

}  // namespace tuft::cli
