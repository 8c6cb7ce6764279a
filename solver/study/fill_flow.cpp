// From a solved condition to results: flows, roles and heads, what moves, and where a flow leaves its law's
// range.
#include <algorithm>
#include <cmath>

#include "solver/network/fan_speed.hpp"
#include "solver/network/solve.hpp"
#include "solver/physics/jet_suction.hpp"
#include "solver/study/field_need.hpp"
#include "solver/study/solution.hpp"
#include "solver/study/state_summary.hpp"

namespace tuft::study {

namespace {

using geometry::Case;

double node_temperature(const Solution& solution, int node) {
  return solution.equations.temperature_of(solution.state, node);
}

// Pressure of a node's still air at a point, against still ambient air.
double pressure_at(const network::Graph& graph, const network::State& state, int node,
                   const geometry::Vec3& point) {
  const physics::AirState& air_state = graph.ambient.state;
  const double lighter = physics::density(air_state, state.temperature[node]) -
                         physics::density(air_state, graph.ambient.temperature);
  return state.pressure[node] + lighter * network::height_lever(graph, node, point);
}

// Adds what one opening carries to its vent's result.
void add_opening(const Solution& solution, int opening, VentResult& result) {
  const network::ElementState& element = solution.equations.element(opening);
  result.outflow += element.forward;
  result.inflow += element.backward;
  result.exchange += element.exchange;
}

// Where no air passes, as a height over that of the vent [-]. Its parts are each a part of that height, one
// above the other where it is taken in strips.
void add_neutral_level(const Solution& solution, const geometry::Vent& vent, double lever,
                       VentResult& result) {
  const network::Graph& graph = solution.net.graph;
  const geometry::Vec3& gravity = graph.ambient.gravity;
  double in = 0.0, out = 1.0;  // highest that draws, lowest that lets out
  for (int opening : solution.net.layout.vent_openings[result.vent]) {
    const network::ElementState& element = solution.equations.element(opening);
    const network::Opening& part = graph.openings[opening];
    const double share = lever > 0.0 ? network::span_lever(gravity, part.width, part.height) / lever : 1.0;
    const double middle = lever > 0.0 ? 0.5 - gravity.dot(part.centre - vent.centre) / lever : 0.5;
    if (std::abs(element.head) < 0.5 * std::abs(element.span)) {
      result.has_neutral_level = true;
      result.neutral_level = middle - share * element.head / element.span;
    } else if (element.head < 0.0) {
      in = std::max(in, middle + 0.5 * share);
    } else {
      out = std::min(out, middle - 0.5 * share);
    }
  }
  const bool between =
      solution.net.layout.vent_openings[result.vent].size() > 1 && 0.0 < in && in <= out && out < 1.0;
  if (result.has_neutral_level || !between) return;
  result.has_neutral_level = true;
  result.neutral_level = 0.5 * (in + out);
}

VentResult vent_flows(const Case& content, const Solution& solution, int v) {
  const geometry::Vent& vent = content.device.vents[v];
  const network::Graph& graph = solution.net.graph;
  VentResult result;
  result.vent = v;
  const int behind = solution.net.layout.vent_node[v];
  result.temperature_out = node_temperature(solution, behind);
  result.temperature_in = graph.ambient.temperature;
  result.pressure = pressure_at(graph, solution.state, behind, vent.centre);
  geometry::Vec3 first, second;
  geometry::side_axes(vent, first, second);
  const double lever = network::span_lever(graph.ambient.gravity, first * vent.width, second * vent.height);
  result.span_head =
      (solution.equations.ambient_density() - physics::density(graph.ambient.state, result.temperature_out)) *
      lever;
  add_neutral_level(solution, vent, lever, result);
  double free_area = 0.0, warmth_in = 0.0, warmth_out = 0.0;
  for (int opening : solution.net.layout.vent_openings[v]) {
    add_opening(solution, opening, result);
    const network::Opening& part = graph.openings[opening];
    free_area += part.area;
    warmth_in += solution.equations.element(opening).backward * node_temperature(solution, part.b);
    warmth_out += solution.equations.element(opening).forward * node_temperature(solution, part.a);
    result.temperature_in = node_temperature(solution, part.b);
  }
  if (solution.net.layout.vent_openings[v].size() > 1 && result.outflow > 0.0)
    result.temperature_out = warmth_out / result.outflow;
  if (result.inflow > 0.0) result.temperature_in = warmth_in / result.inflow;
  const network::VentSurroundings& front = solution.net.layout.front[v];
  result.near_surface = front.near_surface;
  result.gap = front.gap;
  result.covered = front.covered;
  result.hidden = front.hidden;
  result.shut = solution.net.layout.vent_openings[v].empty();
  result.span_head = (physics::density(graph.ambient.state, result.temperature_in) -
                      physics::density(graph.ambient.state, result.temperature_out)) *
                     lever;
  const double larger = std::max(result.inflow, result.outflow);
  const double temperature = result.outflow > result.inflow ? result.temperature_out : result.temperature_in;
  if (free_area > 0.0)
    result.face_velocity = larger / (physics::density(graph.ambient.state, temperature) * free_area);
  return result;
}

bool feels_draught(const network::Graph& graph) {
  return std::any_of(graph.openings.begin(), graph.openings.end(),
                     [](const network::Opening& opening) { return opening.outside != 0.0; });
}

// Pressure of the room's air before a vent that opens straight into the room.
double pressure_before(const Solution& solution, int vent) {
  for (const int opening : solution.net.layout.vent_openings[vent]) {
    const network::Opening& part = solution.net.graph.openings[opening];
    if (part.b == network::kOutside && part.outside != 0.0) return part.outside;
  }
  return 0.0;
}

// Pressure behind every vent of the same flow problem with every temperature kept; empty where it has no
// solution.
std::vector<double> pressures_of(const Case& content, const Solution& solution, const network::Graph& graph) {
  network::Solver solver(graph);
  network::Options options;
  options.frozen_temperature = true;
  if (!solver.solve_from(solution.state, options).converged()) return {};
  std::vector<double> pressures;
  for (std::size_t v = 0; v < content.device.vents.size(); ++v)
    pressures.push_back(
        pressure_at(graph, solver.state(), solution.net.layout.vent_node[v], content.device.vents[v].centre));
  return pressures;
}

// What is left when the draught is taken away, and then gravity: what the fans alone do.
void split_heads(const Case& content, const Solution& solution, ConditionResult& result) {
  network::Graph graph = solution.net.graph;
  const bool draught = feels_draught(graph);
  for (network::Opening& opening : graph.openings) opening.outside = 0.0;
  const std::vector<double> still = draught ? pressures_of(content, solution, graph) : std::vector<double>{};
  graph.ambient.gravity.setZero();
  const std::vector<double> by_fans = pressures_of(content, solution, graph);
  result.heads_known = !by_fans.empty() && (!draught || !still.empty());
  if (!result.heads_known) return;
  for (VentResult& vent : result.vents) {
    const double in_still_air = draught ? still[vent.vent] : vent.pressure;
    vent.fan_head = by_fans[vent.vent];
    vent.buoyancy_head = in_still_air - vent.fan_head;
    if (draught) vent.draught_head = vent.pressure - pressure_before(solution, vent.vent) - in_still_air;
  }
}

// What comes in of the air that outlets have let out makes an intake's air warmer than the room's.
void warm_intakes(const Solution& solution, std::vector<VentResult>& vents) {
  const network::Equations& equations = solution.equations;
  for (VentResult& vent : vents) {
    if (vent.inflow <= 0.0) continue;
    double heat = 0.0;
    for (int opening : solution.net.layout.vent_openings[vent.vent])
      for (int link = 0; link < equations.n_links(); ++link) {
        const network::LinkState& way = equations.link(link);
        if (way.outlet.element >= 0 && way.stream.element == opening) heat += way.heat;
      }
    vent.temperature_in += heat / (equations.heat_capacity() * vent.inflow);
  }
}

// What outlets in a vent's own face may draw on it with (E21): all of them together, at the vent's centre.
double suction_at(const Case& content, const Solution& solution, const std::vector<VentResult>& vents,
                  const VentResult& here) {
  const geometry::Vent& vent = content.device.vents[here.vent];
  double suction = 0.0;
  for (const int v : network::by_name(content.device.vents)) {  // no sum depends on the order of a file
    const VentResult& other = vents[v];
    const geometry::Vent& outlet = content.device.vents[v];
    const double net = other.outflow - other.inflow;
    if (other.vent == here.vent || outlet.face != vent.face || !(net > 0.0) || other.shut) continue;
    double area = 0.0;
    for (int opening : solution.net.layout.vent_openings[other.vent])
      area += solution.net.graph.openings[opening].area;
    const double density = physics::density(solution.net.graph.ambient.state, other.temperature_out);
    const double open = outlet.cover.loss_given ? 1.0 : *outlet.cover.open_ratio;
    suction +=
        physics::jet_suction(net / density, area * open, (vent.centre - outlet.centre).norm(), density);
  }
  return suction;
}

// Speed at which a fan of the device runs [rev/s].
double fan_speed(const Solution& solution, std::size_t f) {
  const int element = solution.net.layout.fan_element[f];
  const network::FanElement& fan = solution.net.graph.fans[element];
  return network::speed_of(fan, solution.net.graph, solution.state);
}

}  // namespace

std::vector<VentResult> vents_of(const Case& content, const Solution& solution, double& through_flow) {
  std::vector<VentResult> vents;
  vents.reserve(content.device.vents.size());
  for (int v = 0; v < static_cast<int>(content.device.vents.size()); ++v)
    vents.push_back(vent_flows(content, solution, v));
  through_flow = sum_of_inflows(vents);
  for (VentResult& vent : vents) {
    if (through_flow > 0.0) vent.share = std::min(std::max(vent.inflow, vent.outflow) / through_flow, 1.0);
    vent.role = role_of(vent, content.thresholds);
  }
  warm_intakes(solution, vents);
  return vents;
}

void fill_vents(const Case& content, const Solution& solution, ConditionResult& result) {
  result.vents = vents_of(content, solution, result.through_flow);
  for (VentResult& vent : result.vents) {
    const auto possible = possible_roles(vent, content.thresholds);
    vent.firm = std::count(possible.begin(), possible.end(), true) == 1;
  }
  split_heads(content, solution, result);
  for (VentResult& vent : result.vents) {
    vent.buoyancy_share = trust_of(vent).buoyancy_share;
    vent.unsure = is_unsure(vent);
    vent.jet_suction = suction_at(content, solution, result.vents, vent);
  }
}

void fill_moving(const Case& content, const Solution& solution, ConditionResult& result) {
  const network::State& x = solution.state;
  const physics::AirState& air_state = solution.net.graph.ambient.state;
  for (std::size_t z = 0; z < content.device.zones.size(); ++z) {
    const int node = solution.net.layout.zone_node[z];
    result.zones.push_back({content.device.zones[z].name, x.pressure[node],
                            network::zone_temperature(solution.net.layout, z, x.temperature),
                            network::warmest_in_zone(solution.net.layout, z, x.temperature)});
  }
  for (std::size_t f = 0; f < content.device.fans.size(); ++f) {
    const int element = solution.net.layout.fan_element[f];
    const network::FanElement& fan = solution.net.graph.fans[element];
    const double flow = x.flow[solution.equations.n_openings() + element];
    const double temperature = node_temperature(solution, fan.a);
    const double density = physics::density(air_state, temperature);
    FanResult entry;
    entry.name = content.device.fans[f].name;
    entry.speed = fan_speed(solution, f);
    entry.speed_control = fan.sensor != network::kNoSensor;
    entry.running = entry.speed > 0.0;
    entry.volume_flow = flow / density;
    entry.pressure_rise = fan.curve.rise(entry.volume_flow, entry.speed, density).pressure;
    entry.temperature = temperature;
    result.fans.push_back(entry);
  }
  for (std::size_t f = 0; f < content.device.fin_stacks.size(); ++f) {
    const double temperature = x.temperature[solution.net.layout.fin_node[f]];
    const double flow = x.flow[solution.net.layout.fin_opening[f]];
    result.fins.push_back(
        {content.device.fin_stacks[f].name, flow / physics::density(air_state, temperature), temperature});
  }
}

namespace {

using network::LaminarKind;
using network::Opening;

// Air of the node the flow comes from.
double source_temperature(const Solution& solution, const Opening& opening, double flow) {
  const int node = flow >= 0.0 ? opening.a : opening.b;
  return node == network::kOutside ? solution.net.graph.ambient.temperature
                                   : solution.state.temperature[node];
}

double reynolds(const Solution& solution, std::size_t index) {
  const Opening& opening = solution.net.graph.openings[index];
  const double flow = solution.state.flow[static_cast<Eigen::Index>(index)];
  const double viscosity = physics::viscosity(source_temperature(solution, opening, flow));
  return std::abs(flow) * opening.laminar.length / (opening.area * viscosity);
}

// A vent's gap has a way to each edge of the face; people know it by the vent.
std::string subject(const Opening& opening) {
  return opening.laminar.kind == LaminarKind::gap ? opening.name.substr(0, opening.name.find(" (gap"))
                                                  : opening.name;
}

}  // namespace

void fill_still_air(const Solution& solution, ConditionResult& result) {
  const network::Equations& equations = solution.equations;
  const double given = network::total_power(solution.net.graph);
  if (given <= 0.0) return;
  double still = 0.0;
  for (int e = 0; e < equations.n_openings(); ++e) {
    const int a = equations.side_a(e), b = equations.side_b(e);
    if ((a == network::kOutside) == (b == network::kOutside)) continue;
    still += equations.conductance(e) * std::abs(equations.temperature_of(solution.state, a) -
                                                 equations.temperature_of(solution.state, b));
  }
  result.through_still_air = std::min(still / given, 1.0);
}

void fill_ranges(const Solution& solution, ConditionResult& result) {
  fill_still_air(solution, result);
  const auto& openings = solution.net.graph.openings;
  for (std::size_t i = 0; i < openings.size(); ++i) {
    const network::LaminarRange& range = openings[i].laminar;
    if (range.kind == LaminarKind::none) continue;
    const double number = reynolds(solution, i);
    if (number <= range.limit) continue;
    const std::string name = subject(openings[i]);
    const auto same = std::find_if(
        result.beyond_laminar.begin(), result.beyond_laminar.end(),
        [&](const RangeExceeded& known) { return known.kind == range.kind && known.name == name; });
    if (same == result.beyond_laminar.end()) {
      result.beyond_laminar.push_back({range.kind, name, number, range.limit});
    } else {
      same->reynolds = std::max(same->reynolds, number);
    }
  }
}

}  // namespace tuft::study
