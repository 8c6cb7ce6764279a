// A solved condition on its way to results; inside the study only.
#pragma once

#include <vector>

#include "solver/network/controls.hpp"
#include "solver/study/state_summary.hpp"

namespace tuft::network {
struct Model;
}

namespace tuft::study {

/// Everything that was solved, the equations evaluated at the state.
struct Solution {
  const network::Network& net;
  const network::HeatLayout& layout;
  const network::Steady& steady;
  const network::Equations& equations;
  const network::State& state;
};

/// The network and heat paths of a condition, ready to be solved. `parts` as for network::assemble.
network::Model model_of(const geometry::Case& content, int condition,
                        const std::vector<network::Parts>* parts = nullptr);

/// Whether two states of a network are two, by their flows.
bool differ(const network::State& a, const network::State& b);

/// Flows and roles of the vents, one per Device::vents; heads are left at 0 and `firm` false.
/// `through_flow` is the sum of all gross inflows [kg/s].
std::vector<VentResult> vents_of(const geometry::Case& content, const Solution& solution,
                                 double& through_flow);

/// Flows, roles and heads of the vents.
void fill_vents(const geometry::Case& content, const Solution& solution, ConditionResult& result);
/// Zones, fans and the air of fin stacks.
void fill_moving(const geometry::Case& content, const Solution& solution, ConditionResult& result);
/// What the air is given and gives (ConditionResult::air_heat).
void fill_air_heat(const geometry::Case& content, const Solution& solution, ConditionResult& result);
/// Passages, fins and gaps in which the flow is faster than laminar.
void fill_ranges(const Solution& solution, ConditionResult& result);
/// What leaves by conduction through the still air in openings.
void fill_still_air(const Solution& solution, ConditionResult& result);
/// Sources and parts.
void fill_bodies(const geometry::Case& content, const Solution& solution, ConditionResult& result);
/// These, skin, and the screen's edge.
void fill_heat(const geometry::Case& content, const Solution& solution, ConditionResult& result);

/// The view of a solved condition, without the search for other states and without heads.
StateSummary summary_of(const geometry::Case& content, int condition, const Solution& solution);

}  // namespace tuft::study
