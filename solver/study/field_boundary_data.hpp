// What a solved network tells the plan layers and the section.
#pragma once

#include "geometry/device/condition.hpp"
#include "solver/flow2d/layer_boundary_data.hpp"
#include "solver/flow2d/layer_transient.hpp"
#include "solver/flow2d/section_plane.hpp"
#include "solver/study/result.hpp"

namespace tuft::study {

/// Throws std::invalid_argument when a condition has no solution to hand on.
void require_solved(const ConditionResult& network);

/// Watts, conductances to the room, fan speeds and the air outside each vent as the network found them, so
/// that both look at the same device and differ in the flow alone. The condition must be solved; throws
/// std::invalid_argument when it is not.
flow2d::LayerBoundaryData layer_boundary_data(const ConditionResult& network);

/// Flows and temperatures of the vents, temperatures of the skin. The same rule.
flow2d::SectionBoundaryData section_boundary_data(const ConditionResult& network);

/// One lump a zone and fin stack whose air is warmed by sources or parts with temperatures of their own, with
/// the capacities of the network's transients (theory.md, W1). Each source and part is shared out among
/// the zones and stacks that its joints lead to, as its heat is in the steady state of `network`; a lump
/// holds as much heat then as those shares do, and passes on what that air is given. Its start is the same
/// for `start`, or the room's temperature without one. What is cold in `network` and shows no way for its
/// heat has the ways and the conductance of `start`. Heat that goes into the air in fixed shares, skin and
/// walls store nothing here. Throws std::invalid_argument when a network is not solved.
std::vector<flow2d::ThermalMass> thermal_masses_of(const geometry::Case& content,
                                                   const ConditionResult& network,
                                                   const ConditionResult* start);

}  // namespace tuft::study
