// Turning the device from one pose to another, and where vents change their role on the way.
#pragma once

#include "solver/experiment/bench_report.hpp"

namespace tuft::bench {

/// Solves the bench condition turned from one pose to another by the shortest way, every 15 degrees, and
/// narrows each change of role down to 2 degrees. Poses that are the same: a turn about the device's y axis
/// by 90 degrees instead.
PoseSweep sweep_pose(const geometry::Case& content, int condition, const geometry::Pose& from,
                     const geometry::Pose& to);

/// Tilts the bench pose by `kAskew` about the world's two level axes, both ways, and says what that does to
/// each vent. Tilts without a solution are left out.
std::vector<Askew> pull_askew(const geometry::Case& content, const study::ConditionResult& bench);

}  // namespace tuft::bench
