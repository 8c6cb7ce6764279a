// Heat in words: chips and what their limits did, parts, skin beside the touch limits, where the heat goes.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"

namespace tuft::output {

/// What people must not overlook: a source that throttles, starves or shuts down; skin above its published
/// limit. One sentence each.
std::vector<std::string> heat_warnings(const geometry::Case& content, const study::ConditionResult& result);

/// Subject and words of the lines on heat; words are empty where a device has no such thing.
std::vector<std::pair<std::string, std::string>> heat_subjects(const geometry::Case& content,
                                                               const study::ConditionResult& result);

/// Whether skin that can be touched is above its published limit.
bool is_above_limit(const study::SkinResult& skin);

/// "published limit for metal touched 5 s: 60.0 °C", and whether that is from memory.
std::string limit_words(const geometry::Case& content, const study::SkinResult& skin);

/// "under 1 s", "5 s", "2 min", "8 h".
std::string duration_text(double seconds);

}  // namespace tuft::output
