#include "solver/study/state_summary.hpp"

#include <algorithm>

#include "solver/study/solution.hpp"

namespace tuft::study {
namespace {

using geometry::Role;
using geometry::RoleThresholds;

// One number of every entry.
template <typename Entry>
std::vector<double> each(const std::vector<Entry>& entries, double Entry::*number) {
  std::vector<double> numbers;
  numbers.reserve(entries.size());
  for (const Entry& entry : entries) numbers.push_back(entry.*number);
  return numbers;
}

}  // namespace

StateSummary summary_of(const ConditionResult& result) {
  StateSummary view;
  view.solved = result.report.converged;
  if (!view.solved) return view;
  view.through_flow = result.through_flow;
  view.through_still_air = result.through_still_air;
  view.vents.reserve(result.vents.size());
  for (const VentResult& vent : result.vents)
    view.vents.push_back({vent.role, vent.inflow, vent.outflow, vent.face_velocity, vent.temperature_in,
                          vent.temperature_out});
  view.fan_speed = each(result.fans, &FanResult::speed);
  view.source_temperature = each(result.sources, &SourceResult::temperature);
  view.source_power = each(result.sources, &SourceResult::power);
  view.part_temperature = each(result.parts, &PartResult::temperature);
  view.skin_temperature = each(result.skins, &SkinResult::temperature);
  view.zone_temperature = each(result.zones, &ZoneResult::temperature);
  return view;
}

StateSummary summary_of(const geometry::Case& content, int condition, const Solution& solution) {
  ConditionResult result;
  result.condition = condition;
  result.report.converged = true;
  result.vents = vents_of(content, solution, result.through_flow);
  fill_moving(content, solution, result);
  fill_bodies(content, solution, result);
  fill_still_air(solution, result);
  StateSummary view = summary_of(result);
  for (const int skin : solution.layout.skin)
    view.skin_temperature.push_back(solution.state.temperature[skin]);
  return view;
}

void update_roles(const RoleThresholds& thresholds, StateSummary& view) {
  view.through_flow = sum_of_inflows(view.vents);
  for (VentSummary& vent : view.vents) vent.role = role_of(vent, view.through_flow, thresholds);
}

double share_of(const VentSummary& vent, double through_flow) {
  const double larger = std::max(vent.inflow, vent.outflow);
  return through_flow > 0.0 ? std::min(larger / through_flow, 1.0) : 0.0;
}

Role role_of(const VentSummary& vent, double through_flow, const RoleThresholds& thresholds) {
  VentResult numbers;
  numbers.inflow = vent.inflow;
  numbers.outflow = vent.outflow;
  numbers.share = share_of(vent, through_flow);
  numbers.face_velocity = vent.face_velocity;
  return role_of(numbers, thresholds);
}

Role role_of(const VentResult& vent, const RoleThresholds& thresholds) {
  if (vent.face_velocity < thresholds.still_velocity) return Role::idle;
  if (vent.share < thresholds.idle_share && vent.face_velocity < thresholds.idle_velocity) return Role::idle;
  const double larger = std::max(vent.inflow, vent.outflow);
  const double smaller = std::min(vent.inflow, vent.outflow);
  if (larger <= 0.0) return Role::idle;
  if (smaller >= thresholds.both_ways_ratio * larger) return Role::both_ways;
  return vent.inflow > vent.outflow ? Role::intake : Role::exhaust;
}

std::vector<RoleThresholds> moved_thresholds(const RoleThresholds& thresholds) {
  std::vector<RoleThresholds> all;
  for (const double idle : {1.0 / thresholds.margin, 1.0, thresholds.margin}) {
    for (const double ratio : {1.0 / thresholds.margin, 1.0, thresholds.margin}) {
      RoleThresholds moved = thresholds;
      moved.still_velocity *= idle;
      moved.idle_share *= idle;
      moved.idle_velocity *= idle;
      moved.both_ways_ratio *= ratio;
      all.push_back(moved);
    }
  }
  return all;
}

std::array<bool, 4> possible_roles(const VentResult& vent, const RoleThresholds& thresholds) {
  std::array<bool, 4> possible{};
  for (const RoleThresholds& moved : moved_thresholds(thresholds))
    possible[static_cast<std::size_t>(role_of(vent, moved))] = true;
  return possible;
}

}  // namespace tuft::study
