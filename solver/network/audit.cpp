#include "solver/network/audit.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace tuft::network {

Audit audit(const Graph& graph, const State& state) {
  Audit energy_balance;
  Equations equations(graph);
  equations.evaluate(state);
  const std::size_t n = graph.nodes.size();
  std::vector<double> net(n, 0.0), gross(n, 0.0);
  double moved = 0.0;
  for (int e = 0; e < equations.n_flows(); ++e) {
    const ElementState& element = equations.element(e);
    const double m = state.flow[e];
    for (const auto& [node, sign] :
         {std::pair{equations.side_a(e), -1.0}, std::pair{equations.side_b(e), 1.0}}) {
      if (node == kOutside) continue;
      at(net, node) += sign * m;
      at(gross, node) += std::abs(m);
    }
    const bool a_out = equations.side_a(e) == kOutside;
    if (a_out != (equations.side_b(e) == kOutside))
      energy_balance.through_flow += a_out ? element.forward : element.backward;
  }
  for (std::size_t i = 0; i < n; ++i) {
    // Where nothing moves at all, a flow of round-off is no imbalance.
    const double reference =
        std::max({energy_balance.through_flow, gross[i], 1e-6 * equations.scales().flow});
    energy_balance.mass = std::max(energy_balance.mass, std::abs(net[i]) / reference);
  }
  energy_balance.heat_in = total_power(graph);
  each_way_out(equations, state, [&](bool with_air, double heat) {
    (with_air ? energy_balance.heat_with_air : energy_balance.heat_through_walls) += heat;
    moved += std::abs(heat);
  });
  const double left =
      std::abs(energy_balance.heat_in - energy_balance.heat_through_walls - energy_balance.heat_with_air);
  // Likewise, where no heat moves at all, what round-off of the temperatures leaves is no imbalance: less
  // than the network's flow carries, and its walls pass, by a tenth of a millikelvin.
  double per_kelvin = equations.scales().heat;
  for (const Node& node : graph.nodes) per_kelvin += node.wall_conductance;
  const double size = std::max({std::abs(energy_balance.heat_in), moved, 1e-4 * per_kelvin});
  energy_balance.energy = size > 0.0 ? left / size : 0.0;
  return energy_balance;
}

}  // namespace tuft::network
