// A sweep of the pose angle as text: which role each vent has at which angle.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"
#include "tools/io/look.hpp"

namespace tuft::output {

/// A row a vent, with the ranges of angle over which it keeps one role. Ends with a newline.
std::string sweep_text(const geometry::Case& content, const geometry::Sweep& sweep,
                       const study::SweepResult& result, const Look& look);

/// The same in one sentence: what a vent does at first, and from which angle on it does something else.
std::string sweep_sentence(const geometry::Case& content, const geometry::Sweep& sweep,
                           const study::SweepResult& result);

}  // namespace tuft::output
