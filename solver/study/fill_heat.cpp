#include <cmath>

#include "solver/physics/film.hpp"
#include "solver/physics/touch_limits.hpp"
#include "solver/network/surface.hpp"
#include "solver/study/solution.hpp"

namespace tuft::study {
namespace {

using geometry::Case;

elements::TouchMaterial touch_material(geometry::SkinMaterial material) {
  switch (material) {
    case geometry::SkinMaterial::metal:
      return elements::TouchMaterial::metal;
    case geometry::SkinMaterial::glass:
      return elements::TouchMaterial::glass;
    case geometry::SkinMaterial::plastic:
      return elements::TouchMaterial::plastic;
    case geometry::SkinMaterial::wood:
      break;
  }
  return elements::TouchMaterial::wood;
}

double asked_power(const Case& content, const geometry::Condition& condition, std::size_t source) {
  for (const auto& entry : content.loads[static_cast<std::size_t>(condition.load)].powers)
    if (entry.source == static_cast<int>(source)) return *entry.power;
  return 0.0;
}

void fill_sources(const Case& content, const Solution& solution, ConditionResult& result) {
  const auto& condition = content.conditions[static_cast<std::size_t>(result.condition)];
  for (std::size_t s = 0; s < content.device.sources.size(); ++s) {
    const geometry::Source& source = content.device.sources[s];
    SourceResult entry;
    entry.name = source.name;
    entry.asked = entry.power = asked_power(content, condition, s);
    const int temperature = solution.layout.source[s];
    if (temperature != heat::kNone) {
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
    if (metal == heat::kNone) continue;
    result.parts.push_back({content.device.fin_stacks[f].name, solution.state.temperature[metal]});
  }
}

// Index of the first LinkState of every link: a stream counts three times.
int link_state(const network::Graph& graph, int link) {
  int first = 0;
  for (int i = 0; i < link; ++i)
    first += graph.links[static_cast<std::size_t>(i)].kind == network::LinkKind::stream ? 3 : 1;
  return first;
}

void fill_skins(const Case& content, const Solution& solution, ConditionResult& result) {
  for (std::size_t s = 0; s < content.device.skins.size(); ++s) {
    const geometry::Skin& skin = content.device.skins[s];
    const elements::TouchLimit limit = elements::touch_limit(touch_material(skin.material), *skin.contact);
    SkinResult entry;
    entry.skin = static_cast<int>(s);
    entry.temperature = solution.state.temperature[solution.layout.skin[s]];
    entry.lies_on = solution.layout.skin_lies_on[s];
    entry.limit = limit.temperature;
    entry.limit_seen = limit.provenance == elements::Provenance::confirmed;
    entry.heat_out =
        solution.equations.link(link_state(solution.net.graph, solution.layout.skin_link[s])).heat;
    result.skins.push_back(entry);
  }
}

// An open screen stands in what the hinge vents let out.
void fill_lid_edges(const Case& content, const Solution& solution, ConditionResult& result) {
  const geometry::Lid& lid = content.device.lid;
  const auto& condition = content.conditions[static_cast<std::size_t>(result.condition)];
  constexpr double kOpen = 0.35;  // [rad]: below 20 degrees the screen is no wall beside the jet; judgement
  if (!lid.present || network::lid_angle(content.device, condition) < kOpen) return;
  for (const VentResult& vent : result.vents) {
    const geometry::Vent& opening = content.device.vents[static_cast<std::size_t>(vent.vent)];
    if (opening.face != geometry::Face::hinge || opening.is_leak || vent.outflow <= vent.inflow) continue;
    const elements::SlotJet jet{opening.width, opening.height, vent.face_velocity, vent.temperature_out,
                                *lid.edge_distance};
    const elements::LidEdge edge =
        elements::lid_edge(jet, solution.net.graph.ambient.state, solution.net.graph.ambient.temperature);
    result.lid_edges.push_back({vent.vent, edge.air_temperature, edge.temperature});
  }
}

}  // namespace

void fill_heat(const Case& content, const Solution& solution, ConditionResult& result) {
  fill_sources(content, solution, result);
  fill_parts(content, solution, result);
  fill_skins(content, solution, result);
  fill_lid_edges(content, solution, result);
}

}  // namespace tuft::study
