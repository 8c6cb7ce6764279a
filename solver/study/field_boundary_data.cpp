#include "solver/study/field_boundary_data.hpp"

#include <algorithm>
#include <stdexcept>

namespace tuft::study {
namespace {

// Heat that has a place goes into the layers there, and not over the whole floor.
void put_in_place(const std::vector<network::PlacedHeat>& placed, flow2d::LayerBoundaryData& given) {
  constexpr double kNarrowest = 1e-4;  // [m]: a spot has an extent
  for (const network::PlacedHeat& heat : placed) {
    given.zones[static_cast<std::size_t>(heat.zone)] -= heat.power;
    given.spots.push_back({heat.zone, heat.centre, std::max(heat.size.x(), kNarrowest),
                           std::max(heat.size.y(), kNarrowest), heat.power});
  }
}

}  // namespace

void require_solved(const study::ConditionResult& network) {
  if (!network.report.converged)
    throw std::invalid_argument("condition '" + network.name + "' has no solution to hand on");
}

flow2d::LayerBoundaryData layer_boundary_data(const study::ConditionResult& network) {
  require_solved(network);
  flow2d::LayerBoundaryData given;
  given.zones = network.air_heat.zones;
  put_in_place(network.air_heat.placed, given);
  given.fin_stacks = network.air_heat.fins;
  for (std::size_t f = 0; f < network.air_heat.fin_metals.size(); ++f)
    given.fin_metals.push_back({network.air_heat.fin_metals[f], network.air_heat.fin_streams[f]});
  given.zone_walls = network.air_heat.zone_walls;
  given.zone_parts = network.air_heat.zone_parts;
  given.zone_part_walls = network.air_heat.zone_part_walls;
  given.fin_walls = network.air_heat.fin_walls;
  for (const study::FanResult& fan : network.fans) given.fan_speeds.push_back(fan.running ? fan.speed : 0.0);
  for (const study::VentResult& vent : network.vents) given.outside.push_back(vent.temperature_in);
  return given;
}

flow2d::SectionBoundaryData section_boundary_data(const study::ConditionResult& network) {
  require_solved(network);
  flow2d::SectionBoundaryData given;
  for (const study::VentResult& vent : network.vents) {
    flow2d::VentBoundaryData entry;
    entry.inflow = vent.inflow;
    entry.outflow = vent.outflow;
    entry.temperature = vent.temperature_out;
    given.vents.push_back(entry);
  }
  for (const study::SkinResult& skin : network.skins) given.skins.push_back(skin.temperature);
  return given;
}

flow2d::SectionBoundaryData section_boundary_data(const study::ConditionResult& network,
                                                  const FieldComparison& comparison) {
  flow2d::SectionBoundaryData given = section_boundary_data(network);
  if (given.vents.size() != comparison.vents.size())
    throw std::invalid_argument("section: network and field have different numbers of vents");
  for (std::size_t v = 0; v < given.vents.size(); ++v) {
    flow2d::VentBoundaryData& entry = given.vents[v];
    const Side &was = comparison.vents[v].network, &is = comparison.vents[v].field;
    entry.inflow = std::max(0.0, entry.inflow - was.inflow + is.inflow);
    entry.outflow = std::max(0.0, entry.outflow - was.outflow + is.outflow);
    entry.temperature += is.temperature_out - was.temperature_out;
  }
  return given;
}

}  // namespace tuft::study
