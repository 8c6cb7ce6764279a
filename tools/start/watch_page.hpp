// The page of results that `tuft watch` shows.
#pragma once

#include <string>

#include "tools/output/run.hpp"

namespace tuft::start {

/// A solved condition drawn on its device to scale, as an SVG document. @pre it has a solution
std::string condition_drawing(const geometry::Case& content, const study::ConditionResult& result);

/// A page that stands alone: the claims, and for each condition the drawing and the tables.
std::string watch_page(const output::Run& run);

}  // namespace tuft::start
