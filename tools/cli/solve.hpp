// Solving what a command asks for.
#pragma once

#include <vector>

#include "geometry/casefile/case_file.hpp"
#include "solver/study/predict.hpp"
#include "tools/io/run.hpp"

namespace tuft::program {

/// Solves these conditions of the case, the sweeps that belong to them, and judges the claims about them.
output::Run solve(const casefile::CaseFile& file, const std::vector<int>& conditions,
                  study::StateSearch search = study::StateSearch::starts);

/// True when every condition and every sweep point of the run has a solution.
bool all_solved(const output::Run& run);

/// Results of these conditions placed at their index in the case, as study::judge() wants them; the others
/// are unsolved.
std::vector<study::ConditionResult> by_index(const geometry::Case& content,
                                             const std::vector<study::ConditionResult>& results);

}  // namespace tuft::program
