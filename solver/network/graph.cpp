#include "solver/network/graph.hpp"

#include <utility>

#include "solver/physics/two_way_flow.hpp"

namespace tuft::network {
namespace {

// Marks every node that can be reached from the outside.
std::vector<bool> reached_nodes(const Graph& graph) {
  std::vector<bool> reached(graph.nodes.size(), false);
  const auto is_reached = [&](int node) { return node == kOutside || at(reached, node); };
  bool grown = true;
  const auto link = [&](int a, int b) {
    if (is_reached(a) == is_reached(b)) return;
    if (a != kOutside) at(reached, a) = true;
    if (b != kOutside) at(reached, b) = true;
    grown = true;
  };
  while (grown) {
    grown = false;
    for (const Opening& opening : graph.openings) link(opening.a, opening.b);
    for (const FanElement& fan : graph.fans) link(fan.a, fan.b);
  }
  return reached;
}

// Marks every body from which heat finds its way to air or room, directly or through other bodies.
std::vector<bool> cooled_bodies(const Graph& graph) {
  const int n_nodes = static_cast<int>(graph.nodes.size());
  std::vector<bool> cooled(graph.bodies.size(), false);
  const auto is_cooled = [&](int temperature) {
    return temperature < n_nodes || at(cooled, temperature - n_nodes);
  };
  bool grown = true;
  while (grown) {
    grown = false;
    for (const HeatLink& link : graph.links) {
      if (link.kind == LinkKind::recirculation ||
          (link.kind == LinkKind::conductance && link.conductance <= 0.0))
        continue;
      for (const auto& [to, from] : {std::pair{link.b, link.a}, std::pair{link.a, link.b}}) {
        const bool way_out = link.kind == LinkKind::stream || is_cooled(to);
        if (from < n_nodes || is_cooled(from) || !way_out) continue;
        at(cooled, from - n_nodes) = true;
        grown = true;
      }
    }
  }
  return cooled;
}

}  // namespace

double height_lever(const Graph& graph, int node, const Vec3& place) {
  if (node == kOutside) return 0.0;
  return graph.ambient.gravity.dot(place - at(graph.nodes, node).reference);
}

double span_lever(const Vec3& gravity, const Vec3& width, const Vec3& height) {
  return physics::equivalent_span(gravity.dot(width), gravity.dot(height));
}

double exchange_lever(const Vec3& gravity, const Opening& opening) { return -gravity.dot(opening.normal); }

const std::string& flow_name(const Graph& graph, Eigen::Index element) {
  const auto i = static_cast<std::size_t>(element);
  return i < graph.openings.size() ? graph.openings[i].name : graph.fans[i - graph.openings.size()].name;
}

const std::string& temperature_name(const Graph& graph, Eigen::Index temperature) {
  const auto i = static_cast<std::size_t>(temperature);
  return i < graph.nodes.size() ? graph.nodes[i].name : graph.bodies[i - graph.nodes.size()].name;
}

Body& body_at(Graph& graph, int temperature) {
  return graph.bodies[static_cast<std::size_t>(temperature) - graph.nodes.size()];
}

const Body& body_at(const Graph& graph, int temperature) {
  return graph.bodies[static_cast<std::size_t>(temperature) - graph.nodes.size()];
}

double total_power(const Graph& graph) {
  double sum = 0.0;
  for (const Node& node : graph.nodes) sum += node.power;
  for (const Body& body : graph.bodies) sum += body.power;
  return sum;
}

std::string connection_fault(const Graph& graph) {
  const std::vector<bool> reached = reached_nodes(graph);
  for (std::size_t i = 0; i < reached.size(); ++i)
    if (!reached[i]) return "'" + graph.nodes[i].name + "' has no open way to the outside";
  const std::vector<bool> cooled = cooled_bodies(graph);
  for (std::size_t i = 0; i < cooled.size(); ++i)
    if (!cooled[i]) return "no heat can leave '" + graph.bodies[i].name + "'";
  return {};
}

}  // namespace tuft::network
