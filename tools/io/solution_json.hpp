// One solved condition as JSON: what a condition and a point of a sweep have from `solved` on
// (docs/results.md).
#pragma once

#include "solver/network/graph.hpp"
#include "solver/network/source_limits.hpp"
#include "solver/study/result.hpp"
#include "tools/io/case_json.hpp"

namespace tuft::io {

/// Adds the solution to `json`: whether there is one, else why not; flows, roles, temperatures, balances.
void add_solution(Json& json, const geometry::Case& content, const study::ConditionResult& result);

/// Words of results files: full, throttled, least-power, shut-down.
const char* source_state_word(network::SourceState state);

/// passage, fins, gap.
const char* laminar_word(network::LaminarKind kind);

}  // namespace tuft::io
