// From a solved condition to results: temperatures, and what the air is given and gives.
#include <cmath>

#include "solver/network/surface.hpp"
#include "solver/physics/film.hpp"
#include "solver/physics/touch_limits.hpp"
#include "solver/study/solution.hpp"

namespace tuft::study {

namespace {

using geometry::Case;

physics::TouchMaterial touch_material(geometry::SkinMaterial material) {
  using physics::TouchMaterial;
  constexpr TouchMaterial kMaterials[] = {TouchMaterial::metal, TouchMaterial::glass, TouchMaterial::plastic,
                                          TouchMaterial::wood};
  return kMaterials[static_cast<int>(material)];
}

double asked_power(const Case& content, const geometry::Condition& condition, std::size_t source) {
  for (const auto& entry : content.loads[condition.load].powers)
    if (entry.source == static_cast<int>(source)) return *entry.power;
  return 0.0;
}

void fill_sources(const Case& content, const Solution& solution, ConditionResult& result) {
  const auto& condition = content.conditions[result.condition];
  for (std::size_t s = 0; s < content.device.sources.size(); ++s) {
    const geometry::Source& source = content.device.sources[s];
    SourceResult entry;
    entry.name = source.name;
    entry.asked = entry.power = asked_power(content, condition, s);
    const int temperature = solution.layout.source[s];
    if (temperature != network::kNone) {
      entry.has_temperature = true;
      entry.temperature = solution.state.temperature[temperature];
      entry.power = solution.steady.sources[s].power;
      entry.state = solution.steady.sources[s].state;
      entry.throttles_at = *source.limits.throttles_at;
      entry.shuts_down_at = *source.limits.shuts_down_at;
    }
    result.sources.push_back(entry);
  }
}

void fill_parts(const Case& content, const Solution& solution, ConditionResult& result) {
  for (std::size_t p = 0; p < content.device.parts.size(); ++p)
    result.parts.push_back(
        {content.device.parts[p].name, solution.state.temperature[solution.layout.part[p]]});
  for (std::size_t f = 0; f < content.device.fin_stacks.size(); ++f) {
    const int metal = solution.layout.fins[f];
    if (metal == network::kNone) continue;
    result.parts.push_back({content.device.fin_stacks[f].name, solution.state.temperature[metal]});
  }
}

// Index of the first LinkState of every link: a stream counts three times.
int link_state(const network::Graph& graph, int link) {
  int first = 0;
  for (int i = 0; i < link; ++i) first += graph.links[i].kind == network::LinkKind::stream ? 3 : 1;
  return first;
}

void fill_skins(const Case& content, const Solution& solution, ConditionResult& result) {
  for (std::size_t s = 0; s < content.device.skins.size(); ++s) {
    const geometry::Skin& skin = content.device.skins[s];
    const physics::TouchLimit limit = physics::touch_limit(touch_material(skin.material), *skin.contact);
    SkinResult entry;
    entry.skin = static_cast<int>(s);
    entry.temperature = solution.state.temperature[solution.layout.skin[s]];
    entry.lies_on = solution.layout.skin_lies_on[s];
    entry.limit = limit.temperature;
    entry.limit_seen = limit.provenance == physics::Provenance::confirmed;
    entry.heat_out =
        solution.equations.link(link_state(solution.net.graph, solution.layout.skin_link[s])).heat;
    result.skins.push_back(entry);
  }
}

// An open screen stands in what the hinge vents let out.
void fill_lid_edges(const Case& content, const Solution& solution, ConditionResult& result) {
  const geometry::Lid& lid = content.device.lid;
  const auto& condition = content.conditions[result.condition];
  constexpr double kOpen = 0.35;  // [rad]: below 20 degrees the screen is no wall beside the jet; judgement
  if (!lid.present || network::lid_angle(content.device, condition) < kOpen) return;
  for (const VentResult& vent : result.vents) {
    const geometry::Vent& opening = content.device.vents[vent.vent];
    if (opening.face != geometry::Face::hinge || opening.is_leak || vent.outflow <= vent.inflow) continue;
    const physics::SlotJet jet{opening.width, opening.height, vent.face_velocity, vent.temperature_out,
                               *lid.edge_distance};
    const physics::LidEdge edge =
        physics::lid_edge(jet, solution.net.graph.ambient.state, solution.net.graph.ambient.temperature);
    result.lid_edges.push_back({vent.vent, edge.air_temperature, edge.temperature});
  }
}

}  // namespace

void fill_bodies(const Case& content, const Solution& solution, ConditionResult& result) {
  fill_sources(content, solution, result);
  fill_parts(content, solution, result);
}

void fill_heat(const Case& content, const Solution& solution, ConditionResult& result) {
  fill_bodies(content, solution, result);
  fill_skins(content, solution, result);
  fill_lid_edges(content, solution, result);
}

namespace {

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
    (watts > 0.0 ? heat.given : heat.lost)[node] += std::abs(watts);
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
      if (link.kind == LinkKind::recirculation) continue;
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

// Splits the heat of a space, which has one node or several, into what it is given and a conductance to the
// room.
void split(const Solution& solution, const NodeHeat& heat, const std::vector<network::ZonePart>& parts,
           double& given, double& wall) {
  const double ambient = solution.net.graph.ambient.temperature;
  double warmer = 0.0, lost = 0.0, walls = 0.0, through_walls = 0.0;
  for (const network::ZonePart& part : parts) {
    const auto n = static_cast<std::size_t>(part.node);
    const double rise = solution.state.temperature[part.node] - ambient;
    warmer += part.share * rise;
    lost += heat.lost[n];
    given += heat.given[n];
    walls += solution.net.graph.nodes[n].wall_conductance;
    through_walls += solution.net.graph.nodes[n].wall_conductance * rise;
  }
  wall = walls;
  if (warmer > kSameWarmth)
    wall = (through_walls + lost) / warmer;
  else
    given -= lost;
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
  air.fin_streams = air.fins;
  for (const int metal : solution.layout.fins)
    air.fin_metals.push_back(metal == network::kNone ? 0.0 : solution.state.temperature[metal]);
  for (const network::PlacedShares& placed : layout.placed) air.placed.push_back(placed.heat);
  air.zone_parts.resize(device.zones.size());
  air.zone_part_walls.resize(device.zones.size());
  for (std::size_t z = 0; z < device.zones.size(); ++z) {
    split(solution, heat, layout.zone_parts[z], air.zones[z], air.zone_walls[z]);
    for (const network::ZonePart& part : layout.zone_parts[z]) {
      double given = 0.0, wall = 0.0;
      split(solution, heat, {{part.node, 1.0}}, given, wall);
      air.zone_parts[z].push_back(given);
      air.zone_part_walls[z].push_back(wall);
    }
  }
  for (std::size_t f = 0; f < device.fin_stacks.size(); ++f)
    if (device.fin_stacks[f].exit_zone < 0)
      split(solution, heat, {{layout.fin_node[f], 1.0}}, air.fins[f], air.fin_walls[f]);
}

}  // namespace tuft::study
