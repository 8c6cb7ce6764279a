// Whether a claim can't be told because the room's air or the table is not known.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "solver/experiment/verdicts.hpp"
#include "solver/study/ensemble.hpp"

namespace tuft::experiment {

/// For every claim that is undecided: solves 256 samples with the air held still, with every support held
/// level, and with both, and sets `room` by the first of these in which the claim has a verdict. Nothing is
/// told of a draught or a tilt that is no input. Throws std::invalid_argument as study::Sampler does.
void tell_room_doubt(const geometry::Case& content, const std::vector<study::FieldCorrection>& corrections,
                     std::uint64_t seed, std::vector<ClaimProbability>& claims,
                     const uncertainty::VerdictRule& rule = {});

}  // namespace tuft::experiment
