#include "solver/study/predict.hpp"

#include <algorithm>
#include <cmath>

#include "solver/network/assemble.hpp"
#include "solver/network/audit.hpp"
#include "solver/network/solve.hpp"
#include "solver/study/roles.hpp"

namespace tuft::study {
namespace {

using geometry::Case;
using network::Network;
using network::Solver;

// What a converged solve may leave over in its books [-].
constexpr double kMassTolerance = 1e-9;
constexpr double kEnergyTolerance = 1e-8;

double node_temperature(const Solver& solver, int node) {
  return node == network::kOutside ? solver.equations().graph().ambient.temperature
                                   : solver.state().temperature[node];
}

// Pressure of a node's still air at a point, against still ambient air.
double pressure_at(const Solver& solver, int node, const geometry::Vec3& point) {
  const network::Graph& graph = solver.equations().graph();
  const double density = air::density(graph.ambient.state, solver.state().temperature[node]);
  const geometry::Vec3 offset = point - graph.nodes[static_cast<std::size_t>(node)].reference;
  return solver.state().pressure[node] +
         (density - solver.equations().ambient_density()) * graph.ambient.gravity.dot(offset);
}

// Adds what one opening carries to its vent's result.
void add_opening(const Solver& solver, int opening, VentResult& result) {
  const network::ElementState& element = solver.equations().element(opening);
  result.outflow += element.forward;
  result.inflow += element.backward;
  result.exchange += element.exchange;
  if (std::abs(element.head) < 0.5 * std::abs(element.span)) {
    result.has_neutral_level = true;
    result.neutral_level = 0.5 - element.head / element.span;
  }
}

VentResult vent_flows(const Case& content, const Network& net, const Solver& solver, int v) {
  const auto index = static_cast<std::size_t>(v);
  const geometry::Vent& vent = content.device.vents[index];
  const network::Graph& graph = net.graph;
  VentResult result;
  result.vent = v;
  const int behind = net.layout.vent_node[index];
  result.temperature_out = node_temperature(solver, behind);
  result.temperature_in = graph.ambient.temperature;
  result.pressure = pressure_at(solver, behind, vent.centre);
  geometry::Vec3 first, second;
  geometry::face_axes(vent.face, first, second);
  const double lever = std::hypot(graph.ambient.gravity.dot(first) * vent.width,
                                  graph.ambient.gravity.dot(second) * vent.height);
  result.span_head =
      (solver.equations().ambient_density() - air::density(graph.ambient.state, result.temperature_out)) *
      lever;
  double free_area = 0.0, warmth_in = 0.0;
  for (int opening : net.layout.vent_openings[index]) {
    add_opening(solver, opening, result);
    const network::Opening& part = graph.openings[static_cast<std::size_t>(opening)];
    free_area += part.area;
    warmth_in += solver.equations().element(opening).backward * node_temperature(solver, part.b);
    result.temperature_in = node_temperature(solver, part.b);
  }
  if (result.inflow > 0.0) result.temperature_in = warmth_in / result.inflow;
  const network::Front& front = net.layout.front[index];
  result.near_surface = front.near_surface;
  result.gap = front.gap;
  result.covered = front.covered;
  result.hidden = front.hidden;
  result.shut = net.layout.vent_openings[index].empty();
  result.span_head = (air::density(graph.ambient.state, result.temperature_in) -
                      air::density(graph.ambient.state, result.temperature_out)) *
                     lever;
  const double larger = std::max(result.inflow, result.outflow);
  const double temperature = result.outflow > result.inflow ? result.temperature_out : result.temperature_in;
  if (free_area > 0.0)
    result.face_velocity = larger / (air::density(graph.ambient.state, temperature) * free_area);
  return result;
}

// The same flow problem with gravity taken away and every temperature kept: what the fans alone do.
void split_heads(const Case& content, const Network& net, const Solver& solver, ConditionResult& result) {
  Network weightless = net;
  weightless.graph.ambient.gravity.setZero();
  Solver fans_only(weightless.graph);
  network::Options options;
  options.frozen_temperature = true;
  result.heads_known = fans_only.solve_from(solver.state(), options).converged();
  for (VentResult& vent : result.vents) {
    const auto index = static_cast<std::size_t>(vent.vent);
    if (!result.heads_known) continue;
    vent.fan_head = pressure_at(fans_only, net.layout.vent_node[index], content.device.vents[index].centre);
    vent.buoyancy_head = vent.pressure - vent.fan_head;
  }
}

void fill_vents(const Case& content, const Network& net, const Solver& solver, ConditionResult& result) {
  for (int v = 0; v < static_cast<int>(content.device.vents.size()); ++v)
    result.vents.push_back(vent_flows(content, net, solver, v));
  for (const VentResult& vent : result.vents) result.through_flow += vent.inflow;
  for (VentResult& vent : result.vents) {
    if (result.through_flow > 0.0)
      vent.share = std::min(std::max(vent.inflow, vent.outflow) / result.through_flow, 1.0);
    vent.role = role_of(vent, content.thresholds);
    const auto possible = possible_roles(vent, content.thresholds);
    vent.firm = std::count(possible.begin(), possible.end(), true) == 1;
  }
  split_heads(content, net, solver, result);
}

void fill_parts(const Case& content, const Network& net, const Solver& solver, ConditionResult& result) {
  const network::State& x = solver.state();
  const air::AirState& air_state = net.graph.ambient.state;
  for (std::size_t z = 0; z < content.device.zones.size(); ++z) {
    const int node = net.layout.zone_node[z];
    result.zones.push_back({content.device.zones[z].name, x.pressure[node], x.temperature[node]});
  }
  for (std::size_t f = 0; f < content.device.fans.size(); ++f) {
    const int element = net.layout.fan_element[f];
    const network::FanElement& fan = net.graph.fans[static_cast<std::size_t>(element)];
    const double flow = x.flow[solver.equations().n_openings() + element];
    const double temperature = node_temperature(solver, fan.a);
    const double density = air::density(air_state, temperature);
    FanResult entry;
    entry.name = content.device.fans[f].name;
    entry.running = fan.speed > 0.0;
    entry.speed = fan.speed;
    entry.volume_flow = flow / density;
    entry.pressure_rise = fan.curve.rise(entry.volume_flow, fan.speed, density).pressure;
    entry.temperature = temperature;
    result.fans.push_back(entry);
  }
  for (std::size_t f = 0; f < content.device.fin_stacks.size(); ++f) {
    const double temperature = x.temperature[net.layout.fin_node[f]];
    const double flow = x.flow[net.layout.fin_opening[f]];
    result.fins.push_back(
        {content.device.fin_stacks[f].name, flow / air::density(air_state, temperature), temperature});
  }
}

// Copies the solve's story; a solution whose books do not close is no solution.
void fill_report(const network::Summary& summary, const network::Audit& books, ConditionResult& result) {
  result.report.converged = summary.converged();
  result.report.reason = summary.message;
  result.report.iterations = summary.iterations;
  result.report.residual = summary.residual;
  if (!summary.converged()) return;
  result.balance = {books.mass, books.energy};
  if (books.mass <= kMassTolerance && books.energy <= kEnergyTolerance) return;
  result.report.converged = false;
  result.report.reason = "the books of mass and heat do not close";
}

}  // namespace

ConditionResult predict(const Case& content, int condition) {
  const geometry::Condition& wanted = content.conditions[static_cast<std::size_t>(condition)];
  const Network net = network::assemble(content, wanted);
  Solver solver(net.graph);
  const network::Summary summary = solver.solve();
  const network::Audit books = summary.converged() ? audit(net.graph, solver.state()) : network::Audit{};

  ConditionResult result;
  result.condition = condition;
  result.name = wanted.name;
  result.ambient_temperature = net.graph.ambient.temperature;
  result.ambient_density = solver.equations().ambient_density();
  for (const network::Node& node : net.graph.nodes) result.power += node.power;
  fill_report(summary, books, result);
  if (!result.report.converged) return result;
  fill_vents(content, net, solver, result);
  fill_parts(content, net, solver, result);
  return result;
}

std::vector<ConditionResult> predict_all(const Case& content) {
  std::vector<ConditionResult> results;
  for (int i = 0; i < static_cast<int>(content.conditions.size()); ++i)
    results.push_back(predict(content, i));
  return results;
}

SweepResult predict_sweep(const Case& content, int sweep) {
  const geometry::Sweep& wanted = content.sweeps[static_cast<std::size_t>(sweep)];
  SweepResult result;
  result.name = wanted.name;
  Case turned = content;
  const geometry::Condition& base = content.conditions[static_cast<std::size_t>(wanted.condition)];
  const int n_steps = static_cast<int>(std::floor((wanted.to - wanted.from) / wanted.step + 1e-9));
  for (int i = 0; i <= n_steps; ++i) {
    const double angle = wanted.from + i * wanted.step;
    geometry::Condition condition = base;
    condition.pose = static_cast<int>(content.poses.size());
    turned.poses = content.poses;
    turned.poses.push_back(geometry::tilted(wanted.name, wanted.axis, angle));
    turned.conditions = {condition};
    SweepPoint point{angle, predict(turned, 0)};
    point.result.condition = wanted.condition;
    result.points.push_back(std::move(point));
  }
  return result;
}

}  // namespace tuft::study
