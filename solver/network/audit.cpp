#include "solver/network/audit.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace tuft::network {

Audit audit(const Graph& graph, const State& state) {
  Audit books;
  Equations equations(graph);
  equations.evaluate(state);
  const double capacity = equations.heat_capacity();
  const double ambient = graph.ambient.temperature;
  const std::size_t n = graph.nodes.size();
  std::vector<double> net(n, 0.0), gross(n, 0.0);
  double moved = 0.0;
  for (int e = 0; e < equations.n_flows(); ++e) {
    const ElementState& element = equations.element(e);
    const double m = state.flow[e];
    for (const auto& [node, sign] :
         {std::pair{equations.side_a(e), -1.0}, std::pair{equations.side_b(e), 1.0}}) {
      if (node == kOutside) continue;
      net[static_cast<std::size_t>(node)] += sign * m;
      gross[static_cast<std::size_t>(node)] += std::abs(m);
    }
    const bool a_out = equations.side_a(e) == kOutside;
    const bool b_out = equations.side_b(e) == kOutside;
    if (a_out == b_out) continue;
    const int inside = a_out ? equations.side_b(e) : equations.side_a(e);
    books.through_flow += a_out ? element.forward : element.backward;
    const double leaving = a_out ? element.backward : element.forward;
    const double carried =
        (capacity * leaving + equations.conductance(e)) * (state.temperature[inside] - ambient);
    books.heat_with_air += carried;
    moved += std::abs(carried);
  }
  for (std::size_t i = 0; i < n; ++i) {
    // Where nothing moves at all, a flow of round-off is no imbalance.
    const double reference = std::max({books.through_flow, gross[i], 1e-6 * equations.scales().flow});
    books.mass = std::max(books.mass, std::abs(net[i]) / reference);
    const double through_wall =
        graph.nodes[i].wall_conductance * (state.temperature[static_cast<int>(i)] - ambient);
    books.heat_in += graph.nodes[i].power;
    books.heat_through_walls += through_wall;
    moved += std::abs(through_wall);
  }
  for (const Body& body : graph.bodies) books.heat_in += body.power;
  for (int link = 0; link < equations.n_links(); ++link) {
    const LinkState& way = equations.link(link);
    if ((way.from == kOutside) == (way.into == kOutside)) continue;
    const double out = way.into == kOutside ? way.heat : -way.heat;
    // What comes in from outside by a flow is air that an outlet gave before.
    (way.outlet.element >= 0 ? books.heat_with_air : books.heat_through_walls) += out;
    moved += std::abs(out);
  }
  const double left = std::abs(books.heat_in - books.heat_through_walls - books.heat_with_air);
  // Likewise, where no heat moves at all (less than the network's flow carries by a tenth of a millikelvin),
  // what round-off leaves is no imbalance.
  const double size = std::max({std::abs(books.heat_in), moved, 1e-4 * equations.scales().heat});
  books.energy = size > 0.0 ? left / size : 0.0;
  return books;
}

}  // namespace tuft::network
