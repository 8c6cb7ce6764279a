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

/// The network and heat paths of a condition, ready to be solved.
network::Model model_of(const geometry::Case& content, int condition);

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
/// Sources and parts.
void fill_bodies(const geometry::Case& content, const Solution& solution, ConditionResult& result);
/// These, skin, and the screen's edge.
void fill_heat(const geometry::Case& content, const Solution& solution, ConditionResult& result);

/// The view of a solved condition, without the search for other states and without heads.
StateSummary summary_of(const geometry::Case& content, int condition, const Solution& solution);

/// How far the network can be trusted at one vent. Both 0 .. 1.
struct NetworkTrust {
  /// Buoyancy over all heads at the vent: (|buoyancy| + |span|) / (|fan| + |buoyancy| + |span|) [-]. Near 1
  /// warm air decides, and the network knows it mixed or in layers only.
  double buoyancy_share = 0.0;
  double exchange_share = 0.0;  ///< two-way exchange over the larger gross flow [-]
};

NetworkTrust trust_of(const VentResult& vent);

/// A vent whose role the network alone does not settle: buoyancy has more than `kMostBuoyancy` of the heads,
/// exchange more than `kMostExchange` of the flow, or the role is near a threshold. Shut vents are settled.
bool is_unsure(const VentResult& vent);

constexpr double kMostBuoyancy = 1.0 / 3.0;  // judgement: the fans' head is twice that of warm air
constexpr double kMostExchange = 0.05;       // judgement

}  // namespace tuft::study
