#include "solver/network/graph.hpp"

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

}  // namespace

std::string connection_fault(const Graph& graph) {
  const std::vector<bool> reached = reached_nodes(graph);
  for (std::size_t i = 0; i < reached.size(); ++i)
    if (!reached[i]) return "'" + graph.nodes[i].name + "' has no open way to the outside";
  return {};
}

}  // namespace tuft::network
