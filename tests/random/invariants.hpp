// What must be true of every solved condition, and of two that should agree; faults come back as sentences.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"

namespace tuft::test {

using Faults = std::vector<std::string>;

/// Mass and heat balance, finite numbers, nothing colder than the room, roles that follow from the flows; of
/// a condition without a solution the sentence that says why.
Faults faults_of(const geometry::Case& content, const study::ConditionResult& result);

/// Two results of one device whose things may stand in another order: the same bits.
Faults different_bits(const geometry::Case& content, const study::ConditionResult& result,
                      const geometry::Case& other, const study::ConditionResult& other_result);

/// How far the flows of the vents that both have differ, over the through-flow of the first; `rename` gives
/// the name in the second of a vent of the first.
Faults different_flows(const geometry::Case& content, const study::ConditionResult& result,
                       const geometry::Case& other, const study::ConditionResult& other_result,
                       double tolerance, const std::function<std::string(const std::string&)>& rename);

/// How far the flows of a vent differ from those of its two halves together; the second half's name ends in
/// `suffix`. The same measure.
Faults different_halves(const geometry::Case& content, const study::ConditionResult& result,
                        const geometry::Case& other, const study::ConditionResult& other_result,
                        const std::string& vent, const std::string& suffix, double tolerance);

}  // namespace tuft::test
