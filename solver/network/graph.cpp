#include "solver/network/graph.hpp"

#include <utility>

namespace tuft::network {
namespace {

// Marks every node that can be reached from the outside.
std::vector<bool> reached_nodes(const Graph& graph) {
  std::vector<bool> reached(graph.nodes.size(), false);
  const auto is_reached = [&](int node) {
    return node == kOutside || reached[static_cast<std::size_t>(node)];
  };
  bool grown = true;
  const auto link = [&](int a, int b) {
    if (is_reached(a) == is_reached(b)) return;
    if (a != kOutside) reached[static_cast<std::size_t>(a)] = true;
    if (b != kOutside) reached[static_cast<std::size_t>(b)] = true;
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
    return temperature < n_nodes || cooled[static_cast<std::size_t>(temperature - n_nodes)];
  };
  bool grown = true;
  while (grown) {
    grown = false;
    for (const HeatLink& link : graph.links) {
      if (link.kind == LinkKind::reentry || (link.kind == LinkKind::conductance && link.conductance <= 0.0))
        continue;
      for (const auto& [to, from] : {std::pair{link.b, link.a}, std::pair{link.a, link.b}}) {
        const bool way_out = link.kind == LinkKind::stream || is_cooled(to);
        if (from < n_nodes || is_cooled(from) || !way_out) continue;
        cooled[static_cast<std::size_t>(from - n_nodes)] = true;
        grown = true;
      }
    }
  }
  return cooled;
}

}  // namespace

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
