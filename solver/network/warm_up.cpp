#include "solver/network/warm_up.hpp"

#include <algorithm>
#include <cmath>

#include "solver/network/initial_states.hpp"
#include "solver/numerics/checks.hpp"

namespace tuft::network {
namespace {

using geometry::Case;
using geometry::Condition;

LoadInputs load_inputs_of(const Case& content, const Condition& condition, const Model& made) {
  LoadInputs load_inputs;
  const Graph& graph = made.net.graph;
  for (const Node& node : graph.nodes) load_inputs.node_power.push_back(node.power);
  for (const Body& body : graph.bodies) load_inputs.body_power.push_back(body.power);
  for (std::size_t s = 0; s < content.device.sources.size(); ++s)
    load_inputs.source_power.push_back(power_under(at(content.loads, condition.load), static_cast<int>(s)));
  load_inputs.fans = graph.fans;
  return load_inputs;
}

// The condition's drive under another load.
LoadInputs load_inputs_under(const Case& content, Condition condition, int load) {
  condition.load = load;
  return load_inputs_of(content, condition, model_of(content, condition));
}

LoadInputs switched_off(const Case& content, const Condition& condition, bool fans_stop) {
  Case without = content;
  geometry::Load& load = without.loads.at(condition.load);
  load.powers.clear();
  LoadInputs load_inputs = load_inputs_under(without, condition, condition.load);
  if (!fans_stop) return load_inputs;
  for (FanElement& fan : load_inputs.fans) {
    fan.speed = 0.0;
    fan.sensor = kNoSensor;
  }
  return load_inputs;
}

std::vector<SourceRule> rules_of(const Case& content, const HeatLayout& layout) {
  std::vector<SourceRule> rules;
  for (std::size_t s = 0; s < content.device.sources.size(); ++s) {
    const geometry::Source& source = content.device.sources[s];
    rules.push_back({source.name, layout.source[s] == kNone ? -1 : layout.source[s], limits_of(source)});
  }
  return rules;
}

std::vector<Change> changes_of(const Case& content, const Condition& condition, const Network& net,
                               const std::vector<ScheduledEvent>& events) {
  std::vector<Change> changes;
  for (const ScheduledEvent& event : events) {
    Change change;
    change.time = event.time;
    switch (event.kind) {
      case ScheduledEvent::Kind::fan_fails:
        change.text = "fan " + at(content.device.fans, event.index).name + " fails";
        change.failing = at(net.layout.fan_element, event.index);
        break;
      case ScheduledEvent::Kind::load:
        change.text = "the load changes to " + at(content.loads, event.index).name;
        change.load_inputs = load_inputs_under(content, condition, event.index);
        break;
      case ScheduledEvent::Kind::power_off:
        change.text = event.fans_stop ? "power off, fans stopped" : "power off, fans go on";
        change.load_inputs = switched_off(content, condition, event.fans_stop);
        break;
    }
    changes.push_back(std::move(change));
  }
  return changes;
}

// Starts in a steady state; what is wrong with it, or nothing.
std::string start_steady(const Case& content, int condition, Setup& setup) {
  Model made = model_of(content, at(content.conditions, condition));
  const Steady steady = solve_from_cold(content, made);
  if (!steady.summary.converged())
    return "there is no steady state of \"" + at(content.conditions, condition).name + "\"" +
           " to start from: " + steady.summary.message;
  const State near = carried_over(made.net.graph, steady.state, setup.graph);
  setup.start = near.temperature;
  if (same_elements(made.net.graph, setup.graph)) setup.flow = steady.state;
  return {};
}

Comparison compare(const Case& content, const Model& made, const End& end, const TransientResult& transient) {
  Comparison result;
  Network net{end.graph, made.net.layout};
  const Steady steady = solve_steady(content, made.layout, net, &end.state);
  result.solved = steady.summary.converged();
  for (Eigen::Index i = 0; result.solved && i < end.state.temperature.size(); ++i) {
    const double difference = std::abs(steady.state.temperature[i] - end.state.temperature[i]);
    if (difference < result.difference) continue;
    result.difference = difference;
    result.place = at(transient.history.temperature, i).name;
  }
  return result;
}

std::vector<int> tracks(const std::vector<int>& indices) {
  std::vector<int> out;
  for (int index : indices) out.push_back(index < 0 ? kNoTrack : index);
  return out;
}

// A space and a part may bear the same name: then the space's track says that it is air.
void tell_apart(const Graph& graph, History& history) {
  for (std::size_t i = 0; i < graph.nodes.size(); ++i) {
    const std::string& name = graph.nodes[i].name;
    const bool twice = std::any_of(graph.bodies.begin(), graph.bodies.end(),
                                   [&](const Body& body) { return body.name == name; });
    if (twice) history.temperature[i].name = name + " (air)";
  }
}

// A through-flow below this share of the largest one is little, and not asked to settle as closely [-]: a
// device that cools down ends without any (judgement).
constexpr double kLittle = 0.1;

// The last time at which the track lies outside the band around its last value; `since` when it never does.
double last_outside(const std::vector<double>& time, const std::vector<double>& values, double band,
                    double since) {
  if (values.empty()) return since;
  const double end = values.back();
  for (std::size_t i = values.size() - 1; i > 0; --i) {
    if (time[i] <= since) break;
    const double near = std::abs(values[i] - end);
    const double far = std::abs(values[i - 1] - end);
    if (far <= band) continue;
    const double share = far > near ? (far - band) / (far - near) : 1.0;
    return std::max(time[i - 1] + share * (time[i] - time[i - 1]), since);
  }
  return since;
}

double through_flow(const History& history, std::size_t index) {
  double sum = 0.0;
  for (const Track& vent : history.inflow) sum += vent.values[index];
  return sum;
}

double largest_through_flow(const History& history) {
  double largest = 0.0;
  for (std::size_t i = 0; i < history.time.size(); ++i) largest = std::max(largest, through_flow(history, i));
  return largest;
}

Capacities capacities_of(const Case& content, const HeatLayout& layout) {
  const auto stands = [](int body) { return body != kNone; };
  const auto stated = [](const auto& thing, int body) {
    return body != kNone && thing.capacity.origin != geometry::Origin::assumed;
  };
  const geometry::Device& device = content.device;
  if (!device.skins.empty() || std::any_of(layout.fins.begin(), layout.fins.end(), stands))
    return Capacities::known;
  bool any = false;
  for (std::size_t s = 0; s < device.sources.size(); ++s) {
    if (stated(device.sources[s], layout.source[s])) return Capacities::known;
    any = any || stands(layout.source[s]);
  }
  for (std::size_t p = 0; p < device.parts.size(); ++p)
    if (stated(device.parts[p], layout.part[p])) return Capacities::known;
  return any || !device.parts.empty() ? Capacities::guessed : Capacities::only_air;
}

// The case with every heat capacity at one end of its spread.
Case with_capacities(Case content, double geometry::Value::*end) {
  const auto set = [&](geometry::Value& capacity) { capacity = geometry::Value(capacity.*end); };
  for (geometry::Source& source : content.device.sources) set(source.capacity);
  for (geometry::Part& part : content.device.parts) set(part.capacity);
  for (geometry::FinStack& fins : content.device.fin_stacks) set(fins.capacity);
  for (geometry::Skin& skin : content.device.skins) set(skin.areal_capacity);
  return content;
}

}  // namespace

Settling settling(const TransientResult& transient, double band, double flow_share) {
  numerics::require_positive(band, "band");
  numerics::require_positive(flow_share, "share of the flow");
  const History& history = transient.history;
  Settling result;
  if (history.time.empty()) return result;
  result.known = transient.ending == Ending::steady;
  for (const Event& event : transient.events)
    if (event.kind == EventKind::change) result.since = std::max(result.since, event.time);
  for (const Track& track : history.temperature)
    result.of_temperature.push_back(last_outside(history.time, track.values, band, result.since) -
                                    result.since);
  const double through =
      std::max(through_flow(history, history.time.size() - 1), kLittle * largest_through_flow(history));
  const double flow_band = std::max(flow_share * through, 1e-300);
  for (const auto* tracks : {&history.inflow, &history.outflow})
    for (const Track& track : *tracks)
      result.flow = std::max(
          result.flow, last_outside(history.time, track.values, flow_band, result.since) - result.since);
  result.overall = result.flow;
  for (double time : result.of_temperature) result.overall = std::max(result.overall, time);
  return result;
}

WarmUp warm_up(const Case& content, const Plan& plan) {
  const Condition& condition = at(content.conditions, plan.condition);
  const Model made = model_of(content, condition);
  Setup setup;
  setup.graph = made.net.graph;
  setup.load_inputs = load_inputs_of(content, condition, made);
  setup.sources = rules_of(content, made.layout);
  for (std::size_t v = 0; v < content.device.vents.size(); ++v)
    setup.vents.push_back({content.device.vents[v].name, made.net.layout.vent_openings[v]});
  setup.changes = changes_of(content, condition, made.net, plan.events);
  const double ambient = setup.graph.ambient.temperature;
  setup.start = Eigen::VectorXd::Constant(
      static_cast<Eigen::Index>(setup.graph.nodes.size() + setup.graph.bodies.size()), ambient);

  WarmUp result;
  for (int zone : by_name(content.device.zones))
    for (const ZonePart& part : at(made.net.layout.zone_parts, zone)) result.zone.push_back(part.node);
  result.zone_parts = made.net.layout.zone_parts;
  result.source = tracks(made.layout.source);
  result.part = tracks(made.layout.part);
  result.fins = tracks(made.layout.fins);
  result.skin = tracks(made.layout.skin);
  result.fan = made.net.layout.fan_element;
  result.ambient = ambient;
  result.capacities = capacities_of(content, made.layout);
  result.transient.message = connection_fault(setup.graph);
  if (result.transient.message.empty() && plan.from != kCold)
    result.transient.message = start_steady(content, plan.from, setup);
  if (!result.transient.message.empty()) return result;

  End end;
  result.transient = run_transient(setup, plan.options, &end);
  tell_apart(setup.graph, result.transient.history);
  result.settling = settling(result.transient, plan.band, plan.flow_share);
  if (result.transient.ending == Ending::steady)
    result.steady = compare(content, made, end, result.transient);
  return result;
}

SoakInterval soak_interval(const Case& content, const Plan& plan) {
  const WarmUp fast = warm_up(with_capacities(content, &geometry::Value::low), plan);
  const WarmUp slow = warm_up(with_capacities(content, &geometry::Value::high), plan);
  SoakInterval out;
  out.known = fast.settling.known && slow.settling.known;
  out.low = std::min(fast.settling.overall, slow.settling.overall);
  out.high = std::max(fast.settling.overall, slow.settling.overall);
  return out;
}

}  // namespace tuft::network
