// The plain numbers of one solved condition that claims and instruments look at, without names and sentences,
// so that thousands of them can be kept; and the roles that vents have by them.
#pragma once

#include <algorithm>
#include <array>
#include <numeric>
#include <vector>

#include "geometry/device/condition.hpp"
#include "solver/study/result.hpp"

namespace tuft::study {

/// What a claim or an instrument sees of one vent (or leak).
struct VentSummary {
  geometry::Role role = geometry::Role::idle;
  double inflow = 0.0;           ///< gross, >= 0 [kg/s]
  double outflow = 0.0;          ///< gross, >= 0 [kg/s]
  double face_velocity = 0.0;    ///< larger gross flow over (density x area neither taped nor hidden) [m/s]
  double temperature_in = 0.0;   ///< of the air outside that would enter [K]
  double temperature_out = 0.0;  ///< of the air inside that would leave [K]
};

/// One solved condition. Where `solved` is false everything else is empty or zero.
struct StateSummary {
  bool solved = false;
  double through_flow = 0.0;               ///< sum of all gross inflows, leaks included [kg/s]
  double through_still_air = 0.0;          ///< as ConditionResult::through_still_air [-]
  bool flows_by_field = false;             ///< a field that is backed has decided the flows
  std::vector<VentSummary> vents;          ///< one per Device::vents, in order
  std::vector<double> fan_speed;           ///< one per Device::fans [rev/s]
  std::vector<double> source_temperature;  ///< one per Device::sources [K]; 0: it is no body
  std::vector<double> source_power;        ///< one per Device::sources [W]
  std::vector<double> part_temperature;    ///< as ConditionResult::parts [K]
  std::vector<double> skin_temperature;    ///< one per Device::skins [K]
  std::vector<double> zone_temperature;    ///< as ConditionResult::zones [K]
};

/// One vent of a view, and the view of one condition, by their indices.
inline const VentSummary& vent_at(const StateSummary& view, int vent) { return view.vents[vent]; }
inline const StateSummary& summary_at(const std::vector<StateSummary>& views, int condition) {
  return views[condition];
}

/// The view of a condition that was predicted.
StateSummary summary_of(const ConditionResult& result);

/// Share of the heat through still air from which a network's state bounds more than it tells; judgement.
constexpr double kStagnant = 0.2;
/// Whether so much of the heat leaves by conduction through the still air in openings. Slow currents, which
/// the network does not have there, carry more: its temperatures are then upper bounds, and its flows tell
/// nothing.
inline bool is_stagnant(double through_still_air) { return through_still_air > kStagnant; }

/// Through-flow, shares and roles from the flows there are.
void update_roles(const geometry::RoleThresholds& thresholds, StateSummary& view);

/// Role of a vent from its flows. Idle if its face velocity is below `still_velocity`, or its share of the
/// through-flow and its face velocity are both below the idle thresholds; else both ways if the smaller gross
/// flow is at least `both_ways_ratio` of the larger; else the direction of the larger.
geometry::Role role_of(const VentResult& vent, const geometry::RoleThresholds& thresholds);
geometry::Role role_of(const VentSummary& vent, double through_flow,
                       const geometry::RoleThresholds& thresholds);

/// Share of the through-flow that a vent carries, 0 .. 1 [-].
double share_of(const VentSummary& vent, double through_flow);

/// Sum of the vents' gross inflows [kg/s], the smallest first: their order in the file changes no digit.
template <class Vent>
double sum_of_inflows(const std::vector<Vent>& vents) {
  std::vector<double> inflows;
  inflows.reserve(vents.size());
  for (const Vent& vent : vents) inflows.push_back(vent.inflow);
  std::sort(inflows.begin(), inflows.end());
  return std::accumulate(inflows.begin(), inflows.end(), 0.0);
}

/// The thresholds as they are, and moved: those of the idle role and that of both ways each multiplied and
/// divided by the margin.
std::vector<geometry::RoleThresholds> moved_thresholds(const geometry::RoleThresholds& thresholds);

/// The roles a vent takes with the moved thresholds; `possible[r]` by the value of Role. Always contains
/// role_of.
std::array<bool, 4> possible_roles(const VentResult& vent, const geometry::RoleThresholds& thresholds);

}  // namespace tuft::study
