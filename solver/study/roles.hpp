// From flows to roles.
#pragma once

#include <array>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"

namespace tuft::study {

/// Role of a vent from its flows. Idle if its face velocity is below `still_velocity`, or its share of the
/// through-flow and its face velocity are both below the idle thresholds; else both ways if the smaller gross
/// flow is at least `both_ways_ratio` of the larger; else the direction of the larger.
geometry::Role role_of(const VentResult& vent, const geometry::RoleThresholds& thresholds);

/// The roles a vent takes when each threshold is multiplied and divided by the margin; `possible[r]` by the
/// value of Role. Always contains role_of.
std::array<bool, 4> possible_roles(const VentResult& vent, const geometry::RoleThresholds& thresholds);

}  // namespace tuft::study
