// A line of a file of observations as the measurement it was.
#pragma once

#include <string>
#include <vector>

#include "geometry/casefile/observations.hpp"
#include "geometry/device/device.hpp"
#include "solver/experiment/learn.hpp"

namespace tuft::program {

/// `spots` are those of the case. A ruler without an error of its own has that of a millimetre scale, or of
/// counted holes.
belief::Observation observation_of(const casefile::ObservationLine& line,
                                   const std::vector<geometry::Spot>& spots);

/// What an observation's instrument would be shown [SI], as a person reads it; of a strip the even speed it
/// answers to, out of the device +. `units` are those of the case's inputs, for rulers.
std::string reading_words(const casefile::ObservationLine& line, double shown,
                          const std::vector<std::string>& units);

}  // namespace tuft::program
