#include "solver/study/field_correction.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tuft::study {
namespace {

constexpr double kLeastSpread = 0.25;

double through_flow_of(const FieldComparison& comparison) {
  double sum = 0.0;
  for (const VentComparison& vent : comparison.vents) sum += vent.network.inflow;
  return sum;
}

FieldCorrection::Vent difference_of(const VentComparison& row, double through) {
  const Side &network = row.network, &field = row.field;
  const Side& larger = network.larger() > field.larger() ? network : field;
  FieldCorrection::Vent out;
  out.inflow = (field.inflow - network.inflow) / through;
  out.outflow = (field.outflow - network.outflow) / through;
  out.temperature_out = row.temperature;
  if (larger.larger() > 0.0) out.velocity_per_share = larger.face_velocity * through / larger.larger();
  return out;
}

double largest_of(const FieldCorrection& correction) {
  double most = 0.0;
  for (const FieldCorrection::Vent& vent : correction.vents)
    most = std::max({most, std::abs(vent.inflow), std::abs(vent.outflow)});
  return most;
}

uncertainty::Distribution weight_of(const FieldCorrection& correction, const FieldSupport& support) {
  uncertainty::Distribution out;
  out.shape = uncertainty::Shape::uniform;
  out.low = 0.0;
  out.high = 1.0;
  if (support.backed()) {
    const double largest = largest_of(correction);
    const double half =
        largest > 0.0 ? std::clamp(support.cell_change / largest, kLeastSpread, 1.0) : kLeastSpread;
    out.low = 1.0 - half;
    out.high = 1.0 + half;
  }
  out.nominal = 0.5 * (out.low + out.high);
  out.floor = 0.0;
  return out;
}

}  // namespace

bool agrees(const geometry::Case& content, const FieldComparison& comparison) {
  const double through = through_flow_of(comparison);
  return std::all_of(comparison.vents.begin(), comparison.vents.end(), [&](const VentComparison& row) {
    if (row.roles_differ && !content.device.vents[row.vent].is_leak) return false;
    const double apart = std::max(std::abs(row.field.inflow - row.network.inflow),
                                  std::abs(row.field.outflow - row.network.outflow));
    return apart <= kFieldAgrees * through;
  });
}

FieldCorrection correction_of(const geometry::Case& content, int condition, const FieldComparison& comparison,
                              const FieldSupport& support) {
  const double through = through_flow_of(comparison);
  if (!(through > 0.0)) throw std::invalid_argument("field correction: nothing flows in the network");
  FieldCorrection out;
  out.key = "model.field." + content.conditions[condition].name;
  out.condition = condition;
  out.backed = support.backed();
  for (const VentComparison& row : comparison.vents) {
    out.vents.push_back(difference_of(row, through));
    if (row.roles_differ && !content.device.vents[row.vent].is_leak) out.roles_differ.push_back(row.vent);
  }
  out.weight = weight_of(out, support);
  return out;
}

void apply(const FieldCorrection& correction, double weight, const geometry::RoleThresholds& thresholds,
           StateSummary& state) {
  const double through = state.through_flow;
  for (std::size_t v = 0; v < state.vents.size(); ++v) {
    const FieldCorrection::Vent& by = correction.vents[v];
    VentSummary& vent = state.vents[v];
    const double before = std::max(vent.inflow, vent.outflow);
    vent.inflow = std::max(vent.inflow + weight * by.inflow * through, 0.0);
    vent.outflow = std::max(vent.outflow + weight * by.outflow * through, 0.0);
    vent.temperature_out += weight * by.temperature_out;
    const double after = std::max(vent.inflow, vent.outflow);
    if (before > 0.0)
      vent.face_velocity *= after / before;
    else if (through > 0.0)
      vent.face_velocity = by.velocity_per_share * after / through;
  }
  update_roles(thresholds, state);
}

}  // namespace tuft::study
