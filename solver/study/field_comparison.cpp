#include "solver/study/field_comparison.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/study/state_summary.hpp"

namespace tuft::study {
namespace {

Side side_of(const VentResult& vent) {
  return {vent.role,  vent.firm,          vent.inflow,         vent.outflow,
          vent.share, vent.face_velocity, vent.temperature_in, vent.temperature_out};
}

// The field's flows judged by the thresholds that judge the network's.
Side side_of(const flow2d::VentFlows& vent, const geometry::RoleThresholds& thresholds) {
  VentResult judged;
  judged.inflow = vent.inflow;
  judged.outflow = vent.outflow;
  judged.share = vent.share;
  judged.face_velocity = vent.face_velocity;
  const auto possible = possible_roles(judged, thresholds);
  return {role_of(judged, thresholds),
          std::count(possible.begin(), possible.end(), true) == 1,
          vent.inflow,
          vent.outflow,
          vent.share,
          vent.face_velocity,
          vent.temperature_in,
          vent.temperature_out};
}

// The vent at which something is largest among those `counts` lets in; the first of equals, -1 for none.
template <typename Value, typename Counts>
int largest(const std::vector<VentComparison>& vents, Value value, Counts counts) {
  int at = -1;
  double most = 0.0;
  for (const VentComparison& vent : vents) {
    if (!counts(vent) || std::abs(value(vent)) <= most) continue;
    most = std::abs(value(vent));
    at = vent.vent;
  }
  return at;
}

void check(const geometry::Case& content, const ConditionResult& network, const flow2d::PlanResult& field) {
  const std::size_t n = content.device.vents.size();
  if (network.vents.size() != n || field.vents.size() != n || field.network_vents.size() != n)
    throw std::invalid_argument("comparison: " + std::to_string(n) + " vents, but the network has " +
                                std::to_string(network.vents.size()) + " and the field " +
                                std::to_string(field.vents.size()));
}

}  // namespace

FieldComparison compare_with_field(const geometry::Case& content, const ConditionResult& network,
                                   const flow2d::PlanResult& field) {
  check(content, network, field);
  FieldComparison result;
  const double through = std::max(network.through_flow, field.through_flow);
  if (network.through_flow > 0.0)
    result.through_flow = (field.through_flow - network.through_flow) / network.through_flow;
  for (std::size_t v = 0; v < network.vents.size(); ++v) {
    VentComparison row;
    row.vent = static_cast<int>(v);
    row.shut = network.vents[v].shut;
    row.network = side_of(network.vents[v]);
    row.field = side_of(field.vents[v], content.thresholds);
    row.roles_differ = row.network.role != row.field.role;
    const double apart = row.field.net() - row.network.net();
    if (through > 0.0) row.of_through_flow = apart / through;
    if (row.network.larger() > 0.0) row.flow = apart / row.network.larger();
    row.temperature = row.field.temperature_out - row.network.temperature_out;
    row.drawing_share = field.vents[v].drawing_share;
    if (!content.device.vents[v].is_leak && row.roles_differ) ++result.roles_differ;
    if (through > 0.0)
      result.start_apart = std::max(
          result.start_apart,
          std::abs(field.network_vents[v].inflow - field.network_vents[v].outflow - row.network.net()) /
              through);
    result.vents.push_back(row);
  }
  const auto is_vent = [&](const VentComparison& row) {
    return !content.device.vents[row.vent].is_leak && !row.shut;
  };
  result.largest_flow = largest(
      result.vents, [](const VentComparison& row) { return row.of_through_flow; }, is_vent);
  result.largest_temperature = largest(
      result.vents, [](const VentComparison& row) { return row.temperature; },
      [&](const VentComparison& row) {
        return is_vent(row) && row.network.outflow > row.network.inflow &&
               row.field.outflow > row.field.inflow;
      });
  return result;
}

}  // namespace tuft::study
