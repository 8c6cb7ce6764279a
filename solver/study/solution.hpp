// A solved condition on its way to results; inside the study only.
#pragma once

#include <vector>

#include "solver/network/controls.hpp"
#include "solver/study/result.hpp"

namespace tuft::study {

/// Everything that was solved, the equations evaluated at the state.
struct Solution {
  const network::Network& net;
  const heat::HeatLayout& layout;
  const heat::Steady& steady;
  const network::Equations& equations;
  const network::State& state;
};

/// Flows and roles of the vents, one per Device::vents; heads are left at 0 and `firm` false.
/// `through_flow` is the sum of all gross inflows [kg/s].
std::vector<VentResult> vents_of(const geometry::Case& content, const Solution& solution,
                                 double& through_flow);
/// Speed at which a fan of the device runs [rev/s].
double fan_speed(const Solution& solution, std::size_t fan);

/// Flows, roles and heads of the vents.
void fill_vents(const geometry::Case& content, const Solution& solution, ConditionResult& result);
/// Zones, fans and the air of fin stacks.
void fill_moving(const geometry::Case& content, const Solution& solution, ConditionResult& result);
/// What the air is given and gives (ConditionResult::air_heat).
void fill_air_heat(const geometry::Case& content, const Solution& solution, ConditionResult& result);
/// Passages, fins and gaps in which the flow is faster than laminar.
void fill_ranges(const Solution& solution, ConditionResult& result);
/// Sources, parts, skin, the screen's edge.
void fill_heat(const geometry::Case& content, const Solution& solution, ConditionResult& result);

}  // namespace tuft::study
