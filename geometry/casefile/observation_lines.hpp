// The lines of a file of observations, checked against the case they are of.
#pragma once

#include <vector>

#include "geometry/casefile/document.hpp"
#include "geometry/casefile/observations.hpp"

namespace tuft::casefile {

/// One line for every observation below `root`, a map. What is wrong goes to `report`; then the lines are of
/// no use.
std::vector<ObservationLine> read_observation_lines(const Node& root, const geometry::Case& content,
                                                    const std::vector<geometry::Spot>& spots,
                                                    const KnownTools& tools, Report& report);

}  // namespace tuft::casefile
