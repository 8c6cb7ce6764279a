#include "solver/study/view.hpp"

namespace tuft::study {
namespace {

// One number of every entry.
template <typename Entry>
std::vector<double> each(const std::vector<Entry>& entries, double Entry::*number) {
  std::vector<double> numbers;
  numbers.reserve(entries.size());
  for (const Entry& entry : entries) numbers.push_back(entry.*number);
  return numbers;
}

}  // namespace

View view_of(const ConditionResult& result) {
  View view;
  view.solved = result.report.converged;
  if (!view.solved) return view;
  view.through_flow = result.through_flow;
  view.vents.reserve(result.vents.size());
  for (const VentResult& vent : result.vents) {
    view.vents.push_back({vent.role, vent.inflow, vent.outflow, vent.face_velocity, vent.temperature_in,
                          vent.temperature_out});
  }
  view.fan_speed = each(result.fans, &FanResult::speed);
  view.source_temperature = each(result.sources, &SourceResult::temperature);
  view.source_power = each(result.sources, &SourceResult::power);
  view.part_temperature = each(result.parts, &PartResult::temperature);
  view.skin_temperature = each(result.skins, &SkinResult::temperature);
  view.zone_temperature = each(result.zones, &ZoneResult::temperature);
  return view;
}

}  // namespace tuft::study
