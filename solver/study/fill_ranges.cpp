// Where the flow leaves the range of the law it was computed with.
#include <algorithm>
#include <cmath>

#include "solver/study/solution.hpp"

namespace tuft::study {
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
  const double viscosity = air::viscosity(source_temperature(solution, opening, flow));
  return std::abs(flow) * opening.laminar.length / (opening.area * viscosity);
}

// A vent's gap has a way to each edge of the face; people know it by the vent.
std::string subject(const Opening& opening) {
  return opening.laminar.kind == LaminarKind::gap ? opening.name.substr(0, opening.name.find(" (gap"))
                                                  : opening.name;
}

}  // namespace

void fill_ranges(const Solution& solution, ConditionResult& result) {
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
