// Verdicts on claims, and the changes between two conditions, as text.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/predict.hpp"
#include "solver/study/result.hpp"
#include "tools/io/grid.hpp"

namespace tuft::io {

/// A claim's verdict, its sentence and why. Ends with a newline.
std::string claim_text(const geometry::Case& content, const study::ClaimResult& result, const Look& look);

/// The same of a claim judged with the values as written: "not true as written" in place of a verdict.
std::string claim_as_written_text(const geometry::Case& content, const study::ClaimResult& result,
                                  const Look& look);

/// "3 claims: 2 true as written, 1 not true as written."
std::string summary_as_written(const std::vector<study::ClaimResult>& results);

/// "3 claims: 2 hold, 1 can't be told."
std::string claims_summary(const std::vector<study::ClaimResult>& results);

/// "intake", or "intake -> exhaust" where the role changes.
std::string role_step(const study::VentChange& change);

/// What changes from one condition to another: a row a vent, then why for those that change. `from` and `to`
/// are the conditions that `changes` was made from. Ends with a newline.
std::string changes_text(const geometry::Case& content, const study::ConditionResult& from,
                         const study::ConditionResult& to, const std::vector<study::VentChange>& changes,
                         const Look& look);

}  // namespace tuft::io
