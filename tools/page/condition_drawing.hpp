// A solved condition drawn on its device, for the documents.
#pragma once

#include <string>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"

namespace tuft::start {

/// The drawing to scale as an SVG document. @pre the condition has a solution
std::string condition_drawing(const geometry::Case& content, const study::ConditionResult& result);

}  // namespace tuft::start
