#include "solver/network/warm_up.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/numerics/checks.hpp"
#include "solver/network/cold_start.hpp"
#include "solver/network/heat_paths.hpp"

namespace tuft::transient {
namespace {

using geometry::Case;
using geometry::Condition;
using network::Graph;
using network::Network;

template <typename T>
const T& at(const std::vector<T>& list, int index) {
  return list.at(static_cast<std::size_t>(index));
}

heat::Model heated(const Case& content, const Condition& condition) {
  heat::Model made;
  made.net = network::assemble(content, condition);
  made.layout = heat::add_heat_paths(content, condition, made.net);
  return made;
}

double power_of(const geometry::Load& load, int source) {
  for (const geometry::SourcePower& entry : load.powers)
    if (entry.source == source) return *entry.power;
  return 0.0;
}

Drive drive_of(const Case& content, const Condition& condition, const heat::Model& made) {
  Drive drive;
  const Graph& graph = made.net.graph;
  for (const network::Node& node : graph.nodes) drive.node_power.push_back(node.power);
  for (const network::Body& body : graph.bodies) drive.body_power.push_back(body.power);
  for (std::size_t s = 0; s < content.device.sources.size(); ++s)
    drive.source_power.push_back(power_of(at(content.loads, condition.load), static_cast<int>(s)));
  for (const network::FanElement& fan : graph.fans) {
    FanDrive told;
    told.speed = fan.speed;
    told.sensor = fan.sensor;
    told.table = fan.follows;
    drive.fans.push_back(told);
  }
  for (std::size_t f = 0; f < content.device.fans.size(); ++f)
    drive.fans[static_cast<std::size_t>(made.net.layout.fan_element[f])].hysteresis =
        *content.device.fans[f].follows.hysteresis;
  return drive;
}

// The condition's drive under another load.
Drive drive_under(const Case& content, Condition condition, int load) {
  condition.load = load;
  return drive_of(content, condition, heated(content, condition));
}

Drive switched_off(const Case& content, const Condition& condition, bool fans_stop) {
  Case without = content;
  geometry::Load& load = without.loads.at(static_cast<std::size_t>(condition.load));
  load.powers.clear();
  Drive drive = drive_under(without, condition, condition.load);
  if (fans_stop) std::fill(drive.fans.begin(), drive.fans.end(), FanDrive{});
  return drive;
}

std::vector<SourceRule> rules_of(const Case& content, const heat::HeatLayout& layout) {
  std::vector<SourceRule> rules;
  for (std::size_t s = 0; s < content.device.sources.size(); ++s) {
    const geometry::Source& source = content.device.sources[s];
    SourceRule rule;
    rule.name = source.name;
    rule.temperature = layout.source[s] == heat::kNone ? -1 : layout.source[s];
    rule.throttles_at = *source.limits.throttles_at;
    rule.least_power = *source.limits.least_power;
    rule.shuts_down_at = *source.limits.shuts_down_at;
    rules.push_back(rule);
  }
  return rules;
}

std::vector<Change> changes_of(const Case& content, const Condition& condition, const Network& net,
                               const std::vector<Happening>& happenings) {
  std::vector<Change> changes;
  for (const Happening& happening : happenings) {
    Change change;
    change.time = happening.time;
    switch (happening.kind) {
      case Happening::Kind::fan_fails:
        change.text = "fan " + at(content.device.fans, happening.index).name + " fails";
        change.failing = at(net.layout.fan_element, happening.index);
        break;
      case Happening::Kind::load:
        change.text = "the load changes to " + at(content.loads, happening.index).name;
        change.drive = drive_under(content, condition, happening.index);
        break;
      case Happening::Kind::power_off:
        change.text = happening.fans_stop ? "power off, fans stopped" : "power off, fans go on";
        change.drive = switched_off(content, condition, happening.fans_stop);
        break;
    }
    changes.push_back(std::move(change));
  }
  return changes;
}

template <typename T>
bool same_names(const std::vector<T>& a, const std::vector<T>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const T& x, const T& y) { return x.name == y.name; });
}

bool same_layout(const Graph& a, const Graph& b) {
  return same_names(a.nodes, b.nodes) && same_names(a.bodies, b.bodies) &&
         same_names(a.openings, b.openings) && same_names(a.fans, b.fans);
}

// Copies temperatures from one network's list to another's by name.
template <typename T>
void carry(const std::vector<T>& from, Eigen::Index first_from, const Eigen::VectorXd& values,
           const std::vector<T>& to, Eigen::Index first_to, Eigen::VectorXd& out) {
  for (std::size_t i = 0; i < to.size(); ++i)
    for (std::size_t j = 0; j < from.size(); ++j)
      if (from[j].name == to[i].name)
        out[first_to + static_cast<Eigen::Index>(i)] = values[first_from + static_cast<Eigen::Index>(j)];
}

// Starts in a steady state; what is wrong with it, or nothing.
std::string start_steady(const Case& content, int condition, Setup& setup) {
  heat::Model made = heated(content, at(content.conditions, condition));
  const heat::Steady steady = heat::solve_from_cold(content, made);
  if (!steady.summary.converged())
    return "there is no steady state of \"" + at(content.conditions, condition).name + "\"" +
           " to start from: " + steady.summary.message;
  const Graph& from = made.net.graph;
  const auto n_from = static_cast<Eigen::Index>(from.nodes.size());
  const auto n_to = static_cast<Eigen::Index>(setup.graph.nodes.size());
  carry(from.nodes, 0, steady.state.temperature, setup.graph.nodes, 0, setup.start);
  carry(from.bodies, n_from, steady.state.temperature, setup.graph.bodies, n_to, setup.start);
  if (same_layout(from, setup.graph)) setup.flow = steady.state;
  return {};
}

Comparison compare(const Case& content, const heat::Model& made, const End& end, const Course& course) {
  Comparison result;
  Network net{end.graph, made.net.layout};
  const heat::Steady steady = heat::solve_steady(content, made.layout, net, &end.state);
  result.solved = steady.summary.converged();
  for (Eigen::Index i = 0; result.solved && i < end.state.temperature.size(); ++i) {
    const double difference = std::abs(steady.state.temperature[i] - end.state.temperature[i]);
    if (difference < result.difference) continue;
    result.difference = difference;
    result.place = course.history.temperature[static_cast<std::size_t>(i)].name;
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
                                   [&](const network::Body& body) { return body.name == name; });
    if (twice) history.temperature[i].name = name + " (air)";
  }
}

}  // namespace

WarmUp warm_up(const Case& content, const Plan& plan) {
  const Condition& condition = at(content.conditions, plan.condition);
  const heat::Model made = heated(content, condition);
  Setup setup;
  setup.graph = made.net.graph;
  setup.drive = drive_of(content, condition, made);
  setup.sources = rules_of(content, made.layout);
  for (std::size_t v = 0; v < content.device.vents.size(); ++v)
    setup.vents.push_back({content.device.vents[v].name, made.net.layout.vent_openings[v]});
  setup.changes = changes_of(content, condition, made.net, plan.happenings);
  const double ambient = setup.graph.ambient.temperature;
  setup.start = Eigen::VectorXd::Constant(
      static_cast<Eigen::Index>(setup.graph.nodes.size() + setup.graph.bodies.size()), ambient);

  WarmUp result;
  result.zone = tracks(made.net.layout.zone_node);
  result.source = tracks(made.layout.source);
  result.part = tracks(made.layout.part);
  result.fins = tracks(made.layout.fins);
  result.skin = tracks(made.layout.skin);
  result.fan = made.net.layout.fan_element;
  result.ambient = ambient;
  result.only_air = setup.graph.bodies.empty();
  result.course.message = network::connection_fault(setup.graph);
  if (result.course.message.empty() && plan.from != kCold)
    result.course.message = start_steady(content, plan.from, setup);
  if (!result.course.message.empty()) return result;

  End end;
  result.course = follow(setup, plan.options, &end);
  tell_apart(setup.graph, result.course.history);
  result.settling = settling(result.course, plan.band, plan.flow_share);
  if (result.course.ending == Ending::steady) result.steady = compare(content, made, end, result.course);
  return result;
}

}  // namespace tuft::transient
