// A line of a file of observations as the measurement it was.
#pragma once

#include <vector>

#include "geometry/casefile/observations.hpp"
#include "geometry/spot.hpp"
#include "solver/belief/learn.hpp"

namespace tuft::program {

/// `spots` are those of the case. A ruler without an error of its own has that of a millimetre scale, or of
/// counted holes.
belief::Observation observation_of(const casefile::ObservationLine& line,
                                   const std::vector<geometry::Spot>& spots);

}  // namespace tuft::program
