// What must not be overlooked in solved conditions, in sentences.
#pragma once

#include <string>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "tools/io/run.hpp"

namespace tuft::io {

/// Conditions without a solution, with several steady states or none, limits of chips and skin, laws left,
/// seams that carry much, roles close to a threshold, assumed values. What is so in several conditions is
/// said once, with their names.
std::vector<std::string> overview_warnings(const Run& run);

/// What people must not overlook: a source that throttles, starves or shuts down; skin above its published
/// limit. One sentence each.
std::vector<std::string> heat_warnings(const geometry::Case& content, const study::ConditionResult& result);

/// Chips hotter than silicon bears or colder than the room, unless the file says that it is so. One sentence
/// each.
std::vector<std::string> heat_doubts(const Run& run, const study::ConditionResult& result);

/// Whether skin that can be touched is above its published limit.
bool is_above_limit(const study::SkinResult& skin);

/// "published limit for metal touched 5 s: 60.0 °C", and whether that is from memory.
std::string limit_words(const geometry::Case& content, const study::SkinResult& skin);

/// Sentences on the steady states of a condition; none where there is just one, as mostly.
std::vector<std::string> state_warnings(const geometry::Case& content, const study::ConditionResult& result);

/// One sentence for each passage, fin stack or gap whose flow is no longer laminar: there the pressure drop
/// is larger than computed.
std::vector<std::string> range_notes(const study::ConditionResult& result);

}  // namespace tuft::io
