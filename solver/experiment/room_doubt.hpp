// Whether a claim can't be told because the room's air or the table is not known.
#pragma once

#include "solver/experiment/verdicts.hpp"
#include "solver/study/ensemble.hpp"

namespace tuft::experiment {

/// True for the key of an input that is a draught's (its speed, its direction), and of a support's tilt.
bool is_draught_input(const std::string& key);
bool is_tilt_input(const std::string& key);

/// For every claim that is undecided: looks at the tenth of the sample with the stillest air, at that with
/// the most level supports (of the claim's conditions), and at that with most of both, and sets `room` by the
/// first of them among which the claim has a verdict. Nothing is told from fewer than 400 solved samples, of
/// a draught or a tilt that is no input, or of one whose whole spread leaves the claim undecided.
void tell_room_doubt(const geometry::Case& content, const Questions& questions, const study::Ensemble& sample,
                     std::vector<ClaimProbability>& claims, const uncertainty::VerdictRule& rule = {});

}  // namespace tuft::experiment
