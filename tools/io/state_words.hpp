// What a person must know when a device has more than one steady state, or none that it stays in.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"

namespace tuft::output {

/// Sentences on the steady states of a condition; none where there is just one, as mostly.
std::vector<std::string> state_warnings(const geometry::Case& content, const study::ConditionResult& result);

}  // namespace tuft::output
