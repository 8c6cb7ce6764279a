// Temperatures and flows that statements are about.
#include <algorithm>

#include "solver/study/statement.hpp"

namespace tuft::study {
namespace {

using geometry::Device;
using geometry::PlaceKind;

}  // namespace

double temperature_of(const Device& device, const geometry::Place& of, const View& view) {
  const auto at = [&](const std::vector<double>& list) { return list[static_cast<std::size_t>(of.index)]; };
  switch (of.kind) {
    case PlaceKind::source:
      return at(view.source_temperature);
    case PlaceKind::part:
      return at(view.part_temperature);
    case PlaceKind::skin:
      return at(view.skin_temperature);
    case PlaceKind::vent:
      return vent_at(view, of.index).temperature_out;
    case PlaceKind::fins: {  // after the parts stand the fins that have metal
      std::size_t place = device.parts.size();
      for (int f = 0; f < of.index; ++f) place += geometry::has_metal(device, f) ? 1 : 0;
      return view.part_temperature[place];
    }
    case PlaceKind::zone:
    case PlaceKind::fan_inlet:
    case PlaceKind::fan_outlet:
      break;
  }
  return at(view.zone_temperature);
}

double total_flow(const std::vector<int>& vents, const View& view, bool inflow) {
  double sum = 0.0;
  for (const int vent : vents) sum += inflow ? vent_at(view, vent).inflow : vent_at(view, vent).outflow;
  return sum;
}

double carried(const std::vector<int>& vents, const View& view) {
  if (vents.empty()) return view.through_flow;
  return std::max(total_flow(vents, view, true), total_flow(vents, view, false));
}

double carried_share(const std::vector<int>& vents, const View& view) {
  if (view.through_flow <= 0.0) return 0.0;
  double leaves = 0.0;  // as much as the through-flow, but for scaled flows
  for (const VentView& vent : view.vents) leaves += vent.outflow;
  const double drawn = total_flow(vents, view, true) / view.through_flow;
  const double given = leaves > 0.0 ? total_flow(vents, view, false) / leaves : 0.0;
  return std::min(std::max(drawn, given), 1.0);
}

}  // namespace tuft::study
