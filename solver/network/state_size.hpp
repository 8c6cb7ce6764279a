// How large the flows and temperature rises of a state are: what its changes are measured in.
#pragma once

#include <algorithm>
#include <cmath>

#include "solver/network/equations.hpp"

namespace tuft::heat {

struct StateSize {
  double flow;  ///< largest flow [kg/s], and no less than a thousandth of the network's scale
  double rise;  ///< largest difference from the room's temperature [K], and no less than the network's scale
};

inline StateSize size_of(const network::Equations& eq, const network::State& x) {
  constexpr double kLeastFlow = 1e-3;  // share of the network's scale
  StateSize size{kLeastFlow * eq.scales().flow, eq.scales().temperature};
  for (double m : x.flow) size.flow = std::max(size.flow, std::abs(m));
  for (double t : x.temperature)
    size.rise = std::max(size.rise, std::abs(t - eq.graph().ambient.temperature));
  return size;
}

}  // namespace tuft::heat
