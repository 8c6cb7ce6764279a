// The circumstances of a condition in results.json, as numbers and in words.
#pragma once

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "tools/io/json_values.hpp"

namespace tuft::output {

/// Adds support, load, lid and the circumstances in words.
void add_setting(Json& json, const geometry::Case& content, const geometry::Condition& condition);
/// Adds the sentence that sums a solved condition up, and what must not be overlooked in it.
void add_words(Json& json, const geometry::Case& content, const study::ConditionResult& result);

}  // namespace tuft::output
