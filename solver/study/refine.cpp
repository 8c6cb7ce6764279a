#include "solver/study/refine.hpp"

#include <algorithm>
#include <cmath>

#include "solver/study/field_boundary_data.hpp"

namespace tuft::study {
namespace {

void find_largest(const geometry::Device& device, const FieldComparison& finer, Refined* out) {
  double flow = 0.0, temperature = 0.0;
  for (const VentRefined& row : out->vents) {
    const auto v = static_cast<std::size_t>(row.vent);
    if (device.vents[v].is_leak || row.shut) continue;
    out->roles_differ += row.role_differs;
    if (std::abs(row.of_through_flow) > flow) {
      flow = std::abs(row.of_through_flow);
      out->largest_flow = row.vent;
    }
    const Side& side = finer.vents[v].field;
    if (side.outflow > side.inflow && std::abs(row.temperature) > temperature) {
      temperature = std::abs(row.temperature);
      out->largest_temperature = row.vent;
    }
  }
}

}  // namespace

Refined refine(const geometry::Case& content, const ConditionResult& network, const flow2d::PlanResult& given,
               flow2d::PlanOptions options) {
  const FieldComparison coarse = compare_with_field(content, network, given);
  options.cell *= 0.5;
  Refined out;
  out.cell = options.cell;
  const flow2d::PlanResult finer = flow2d::solve_plan(content, content.conditions[network.condition],
                                                      layer_boundary_data(network), options);
  out.message = finer.message;
  out.found = finer.usable();
  if (!out.found) return out;
  out.comparison = compare_with_field(content, network, finer);
  out.steady = finer.converged();
  out.steadiness = finer.steadiness;
  const FieldComparison& fine = out.comparison;
  const double through = std::max(finer.through_flow, given.through_flow);
  if (given.through_flow > 0.0)
    out.through_flow = (finer.through_flow - given.through_flow) / given.through_flow;
  for (std::size_t v = 0; v < fine.vents.size(); ++v) {
    const Side &before = coarse.vents[v].field, &after = fine.vents[v].field;
    const double apart = after.net() - before.net(), own = fine.vents[v].network.larger();
    VentRefined row;
    row.vent = static_cast<int>(v);
    row.shut = fine.vents[v].shut;
    row.role = after.role;
    row.role_differs = after.role != before.role;
    if (through > 0.0) row.of_through_flow = apart / through;
    if (own > 0.0) row.flow = apart / own;
    row.temperature = after.temperature_out - before.temperature_out;
    out.vents.push_back(row);
  }
  find_largest(content.device, fine, &out);
  return out;
}

}  // namespace tuft::study
