// A case file read and solved, and the names in it found, as commands need it.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "geometry/device/lists.hpp"
#include "solver/study/predict.hpp"
#include "tools/cli/options.hpp"
#include "tools/io/run.hpp"

namespace tuft::cli {

/// Reads a case file; shows its warnings. Throws Failure (bad_input) with every error in it.
casefile::CaseFile load_case(const CaseArgument& given);
/// The same; with `inputs_only` the laws of the model have no spread.
casefile::CaseFile load_case(const CaseArgument& given, bool inputs_only);

/// Shows warnings on standard error.
void show_warnings(const casefile::ReadResult& read);

/// All errors of a file as one text; `file` is the text they are in.
std::string error_text(const std::vector<casefile::Diagnostic>& errors, const std::string& file);
std::string error_text(const casefile::ReadResult& read);

using geometry::contains;
using geometry::names_of;

/// Index of a name among those known; `kind` is what it names. Throws Failure (bad_input) with the nearest
/// known name, or all.
int find_name(const std::string& kind, const std::string& name, const std::vector<std::string>& known);

/// Index of the condition or vent of that name. Throws Failure (bad_input) with the nearest known name, or
/// all.
int find_condition(const geometry::Case& content, const std::string& name);
int find_vent(const geometry::Case& content, const std::string& name);

/// The condition of that name, or the first when the name is empty; `what` is to be done with it: " to draw".
/// Throws Failure (bad_input) also where the case has none.
int chosen_condition(const geometry::Case& content, const std::string& name, const std::string& what);

/// The ids of all claims.
std::vector<std::string> claim_ids(const geometry::Case& content);

/// The claims of those ids, or all when none is named; in the order of the case, each once.
std::vector<int> find_claims(const geometry::Case& content, const std::vector<std::string>& ids);

/// The conditions of those names, or all when none is named; in the order of the case, each once.
std::vector<int> find_conditions(const geometry::Case& content, const std::vector<std::string>& names);

/// Solves these conditions of the case, the sweeps that belong to them, and judges the claims about them.
io::Run solve(const casefile::CaseFile& file, const std::vector<int>& conditions,
              study::StateSearch search = study::StateSearch::starts);

/// Throws Failure (no_solution): a condition that is needed has no solution; the second, where it has none.
[[noreturn]] void refuse_unsolved(const std::string& condition, const std::string& reason);
void fail_unless_solved(const study::ConditionResult& result);

/// True when a condition of the run has a solution.
bool any_solved(const io::Run& run);

/// True when every condition and every sweep point of the run has a solution.
bool all_solved(const io::Run& run);

/// Results of these conditions placed at their index in the case, as study::judge() wants them; the others
/// are unsolved.
std::vector<study::ConditionResult> by_index(const geometry::Case& content,
                                             const std::vector<study::ConditionResult>& results);

}  // namespace tuft::cli
