// One solved condition as JSON: what a condition and a point of a sweep have from `solved` on
// (docs/results.md).
#pragma once

#include "solver/study/result.hpp"
#include "tools/io/case_json.hpp"

namespace tuft::model {

/// Adds the solution to `json`: whether there is one, else why not; flows, roles, temperatures, balances.
void add_solution(Json& json, const geometry::Case& content, const study::ConditionResult& result);

}  // namespace tuft::model
