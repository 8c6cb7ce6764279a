#include "solver/flow2d/layer_boundary_data.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

namespace tuft::flow2d {

void check_boundary_data(const geometry::Device& device, const LayerBoundaryData& given) {
  const auto check = [](const char* name, const std::vector<double>& list, std::size_t wanted, double least) {
    if (list.empty()) return;
    if (list.size() != wanted)
      throw std::invalid_argument(std::string("given.") + name + " has " + std::to_string(list.size()) +
                                  " entries, must have " + std::to_string(wanted));
    for (const double value : list)
      if (!std::isfinite(value) || value < least)
        throw std::invalid_argument(std::string("given.") + name + " holds " + std::to_string(value));
  };
  constexpr double any = std::numeric_limits<double>::lowest();
  check("zones", given.zones, device.zones.size(), any);
  check("fin_stacks", given.fin_stacks, device.fin_stacks.size(), any);
  check("zone_walls", given.zone_walls, device.zones.size(), 0.0);
  check("fin_walls", given.fin_walls, device.fin_stacks.size(), 0.0);
  check("fan_speeds", given.fan_speeds, device.fans.size(), 0.0);
  check("outside", given.outside, device.vents.size(), 1.0);
  if (!given.fin_metals.empty() && given.fin_metals.size() != device.fin_stacks.size())
    throw std::invalid_argument("given.fin_metals has " + std::to_string(given.fin_metals.size()) +
                                " entries, must have " + std::to_string(device.fin_stacks.size()));
  for (const FinMetal& metal : given.fin_metals)
    if (!(metal.temperature >= 0.0) || !std::isfinite(metal.temperature) || !std::isfinite(metal.heat) ||
        (metal.temperature > 0.0 && given.fin_stacks.empty()))
      throw std::invalid_argument(
          "given.fin_metals: a temperature must be finite and at least 0 K, its heat finite and part of "
          "given.fin_stacks");
  for (const HeatSpot& spot : given.spots) {
    if (spot.zone < 0 || spot.zone >= static_cast<int>(device.zones.size()))
      throw std::invalid_argument("given.spots: there is no zone " + std::to_string(spot.zone));
    if (!(spot.width > 0.0 && spot.height > 0.0) || !std::isfinite(spot.width) ||
        !std::isfinite(spot.height) || !std::isfinite(spot.power) || !spot.centre.allFinite())
      throw std::invalid_argument("given.spots: sides must be > 0, and all numbers finite");
  }
}

void check_condition(const geometry::Case& content, const geometry::Condition& condition) {
  const auto check = [](const char* name, int index, std::size_t size) {
    if (index < 0 || index >= static_cast<int>(size))
      throw std::invalid_argument(std::string("condition.") + name + " is " + std::to_string(index) +
                                  ", there are " + std::to_string(size));
  };
  check("pose", condition.pose, content.poses.size());
  check("support", condition.support, content.supports.size());
  check("load", condition.load, content.loads.size());
}

double set_given(const geometry::Device& device, const LayerBoundaryData& given, network::Network* net) {
  network::Graph& graph = net->graph;
  for (network::Node& node : graph.nodes) node.power = 0.0;
  double sum = 0.0;
  const auto node = [&](int n) -> network::Node& { return graph.nodes[n]; };
  const auto give = [&](int n, double watts) {
    node(n).power += watts;
    sum += watts;
  };
  const auto warm_zone = [&](std::size_t zone, double watts) {
    for (const network::ZonePart& part : net->layout.zone_parts[zone]) give(part.node, part.share * watts);
  };
  // Whether a list says how a zone is divided, as this network divides it.
  const auto divides = [&](const std::vector<std::vector<double>>& list, std::size_t zone) {
    const std::size_t parts = net->layout.zone_parts[zone].size();
    return parts > 1 && zone < list.size() && list[zone].size() == parts;
  };
  for (std::size_t z = 0; z < given.zones.size(); ++z) {
    if (!divides(given.zone_parts, z)) {
      warm_zone(z, given.zones[z]);
      continue;
    }
    for (std::size_t p = 0; p < given.zone_parts[z].size(); ++p)
      give(net->layout.zone_parts[z][p].node, given.zone_parts[z][p]);
  }
  for (std::size_t f = 0; f < given.fin_stacks.size(); ++f)
    give(net->layout.fin_node[f], given.fin_stacks[f]);
  // What each part of a zone gets holds the spots in it.
  for (const HeatSpot& spot : given.spots)
    if (!divides(given.zone_parts, spot.zone)) warm_zone(spot.zone, spot.power);
  for (std::size_t z = 0; z < given.zone_walls.size(); ++z)
    for (std::size_t p = 0; p < net->layout.zone_parts[z].size(); ++p) {
      const network::ZonePart& part = net->layout.zone_parts[z][p];
      node(part.node).wall_conductance =
          divides(given.zone_part_walls, z) ? given.zone_part_walls[z][p] : part.share * given.zone_walls[z];
    }
  for (std::size_t f = 0; f < given.fin_walls.size(); ++f)
    if (device.fin_stacks[f].exit_zone < 0)
      node(net->layout.fin_node[f]).wall_conductance = given.fin_walls[f];
  for (std::size_t f = 0; f < given.fan_speeds.size(); ++f)
    graph.fans[net->layout.fan_element[f]].speed = given.fan_speeds[f];
  return sum;
}

}  // namespace tuft::flow2d
