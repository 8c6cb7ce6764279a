// What the air of a solved network is given and gives, for whoever follows the air in more detail.
#include <cmath>

#include "solver/study/solution.hpp"

namespace tuft::study {
namespace {

using geometry::Case;
using network::LinkKind;

constexpr double kSameWarmth = 0.05;  // air no warmer than the room by that [K] has no conductance to state

// Heat that the air of each node gets and loses by other ways than the flow [W], both >= 0.
struct NodeHeat {
  std::vector<double> given, lost;
};

void add_way(const network::LinkState& way, NodeHeat& heat) {
  const auto n = static_cast<int>(heat.given.size());
  const auto add = [&](int node, double watts) {
    if (node < 0 || node >= n) return;
    (watts > 0.0 ? heat.given : heat.lost)[static_cast<std::size_t>(node)] += std::abs(watts);
  };
  add(way.into, way.heat);
  add(way.from, -way.heat);
}

// Streams heat the air within fins, wherever it goes then; air that comes back from outside is no heat given
// inside but warmer air that enters.
NodeHeat heat_of_nodes(const Solution& solution, std::vector<double>& fins) {
  const network::Graph& graph = solution.net.graph;
  const network::Layout& layout = solution.net.layout;
  NodeHeat heat{std::vector<double>(graph.nodes.size(), 0.0), std::vector<double>(graph.nodes.size(), 0.0)};
  for (std::size_t n = 0; n < graph.nodes.size(); ++n) heat.given[n] = graph.nodes[n].power;
  int next = 0;
  for (const network::HeatLink& link : graph.links) {
    const int states = link.kind == LinkKind::stream ? 3 : 1;
    for (int i = 0; i < states; ++i, ++next) {
      const network::LinkState& way = solution.equations.link(next);
      if (link.kind == LinkKind::reentry) continue;
      if (link.kind != LinkKind::stream) {
        add_way(way, heat);
        continue;
      }
      for (std::size_t f = 0; f < layout.fin_opening.size(); ++f)
        if (layout.fin_opening[f] == link.element) fins[f] += way.heat;
    }
  }
  return heat;
}

// Splits a node's heat into what it is given and a conductance to the room.
void split(const Solution& solution, const NodeHeat& heat, int node, double& given, double& wall) {
  const auto n = static_cast<std::size_t>(node);
  const double warmer = solution.state.temperature[node] - solution.net.graph.ambient.temperature;
  given += heat.given[n];
  wall = solution.net.graph.nodes[n].wall_conductance;
  if (warmer > kSameWarmth)
    wall += heat.lost[n] / warmer;
  else
    given -= heat.lost[n];
}

}  // namespace

void fill_air_heat(const Case& content, const Solution& solution, ConditionResult& result) {
  const geometry::Device& device = content.device;
  const network::Layout& layout = solution.net.layout;
  AirHeat& air = result.air_heat;
  air.fins.assign(device.fin_stacks.size(), 0.0);
  air.fin_walls.assign(device.fin_stacks.size(), 0.0);
  air.zones.assign(device.zones.size(), 0.0);
  air.zone_walls.assign(device.zones.size(), 0.0);
  const NodeHeat heat = heat_of_nodes(solution, air.fins);
  for (std::size_t z = 0; z < device.zones.size(); ++z)
    split(solution, heat, layout.zone_node[z], air.zones[z], air.zone_walls[z]);
  for (std::size_t f = 0; f < device.fin_stacks.size(); ++f)
    if (device.fin_stacks[f].exit_zone < 0)
      split(solution, heat, layout.fin_node[f], air.fins[f], air.fin_walls[f]);
}

}  // namespace tuft::study
