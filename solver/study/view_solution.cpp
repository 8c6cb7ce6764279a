// The view straight from a solution: what a sample needs, and no more.
#include <algorithm>

#include "solver/study/roles.hpp"
#include "solver/study/solution.hpp"
#include "solver/study/view.hpp"

namespace tuft::study {
namespace {

using geometry::Case;

double asked_power(const geometry::Load& load, int source) {
  for (const geometry::SourcePower& entry : load.powers)
    if (entry.source == source) return *entry.power;
  return 0.0;
}

void view_sources(const Case& content, int load, const Solution& solution, View& view) {
  const std::size_t n = content.device.sources.size();
  view.source_temperature.resize(n);
  view.source_power.resize(n);
  for (std::size_t s = 0; s < n; ++s) {
    const int temperature = solution.layout.source[s];
    const bool is_body = temperature != heat::kNone;
    view.source_temperature[s] = is_body ? solution.state.temperature[temperature] : 0.0;
    view.source_power[s] =
        is_body ? solution.steady.sources[s].power
                : asked_power(content.loads[static_cast<std::size_t>(load)], static_cast<int>(s));
  }
}

}  // namespace

View view_of(const Case& content, int condition, const Solution& solution) {
  View view;
  view.solved = true;
  const std::vector<VentResult> vents = vents_of(content, solution, view.through_flow);
  view.vents.reserve(vents.size());
  for (const VentResult& vent : vents)
    view.vents.push_back({vent.role, vent.inflow, vent.outflow, vent.face_velocity, vent.temperature_in,
                          vent.temperature_out});
  view.fan_speed.reserve(content.device.fans.size());
  for (std::size_t f = 0; f < content.device.fans.size(); ++f)
    view.fan_speed.push_back(fan_speed(solution, f));
  view_sources(content, content.conditions[static_cast<std::size_t>(condition)].load, solution, view);
  const Eigen::VectorXd& temperature = solution.state.temperature;
  view.part_temperature.reserve(content.device.parts.size() + content.device.fin_stacks.size());
  for (const int part : solution.layout.part) view.part_temperature.push_back(temperature[part]);
  for (const int metal : solution.layout.fins)
    if (metal != heat::kNone) view.part_temperature.push_back(temperature[metal]);
  view.skin_temperature.reserve(solution.layout.skin.size());
  for (const int skin : solution.layout.skin) view.skin_temperature.push_back(temperature[skin]);
  view.zone_temperature.reserve(solution.net.layout.zone_node.size());
  for (const int node : solution.net.layout.zone_node) view.zone_temperature.push_back(temperature[node]);
  return view;
}

void scale_flow(View& view, std::size_t vent, double factor) {
  VentView& scaled = view.vents[vent];
  scaled.inflow *= factor;
  scaled.outflow *= factor;
  scaled.face_velocity *= factor;
}

void renew_roles(const geometry::RoleThresholds& thresholds, View& view) {
  view.through_flow = 0.0;
  for (const VentView& vent : view.vents) view.through_flow += vent.inflow;
  for (VentView& vent : view.vents) {
    VentResult plain;
    plain.inflow = vent.inflow;
    plain.outflow = vent.outflow;
    plain.face_velocity = vent.face_velocity;
    if (view.through_flow > 0.0)
      plain.share = std::min(std::max(vent.inflow, vent.outflow) / view.through_flow, 1.0);
    vent.role = role_of(plain, thresholds);
  }
}

}  // namespace tuft::study
