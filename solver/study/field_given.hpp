// What a solved network tells the plan layers and the section.
#pragma once

#include "solver/flow2d/layer_given.hpp"
#include "solver/flow2d/section_given.hpp"
#include "solver/study/result.hpp"

namespace tuft::agreement {

/// Throws std::invalid_argument when a condition has no solution to hand on.
void require_solved(const study::ConditionResult& network);

/// Watts, conductances to the room, fan speeds and the air outside each vent as the network found them, so
/// that both look at the same device and differ in the flow alone. The condition must be solved; throws
/// std::invalid_argument when it is not.
plan::Given given_of(const study::ConditionResult& network);

/// Flows and temperatures of the vents, temperatures of the skin. The same rule.
section::SectionGiven section_given_of(const study::ConditionResult& network);

}  // namespace tuft::agreement
