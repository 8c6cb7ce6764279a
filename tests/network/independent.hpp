// A second opinion on a network's state: every element's law evaluated without the solver's closed forms.
#pragma once

#include "solver/network/equations.hpp"

namespace tuft::testing {

/// Net mass flow [kg/s] through an opening at a state, summed strip by strip over its height (Simpson's
/// rule, strips getting finer towards the neutral line): slow, and with nothing in common with the solver's
/// integral.
double flow_by_strips(const network::Graph& graph, const network::State& state,
                      const network::Opening& opening);

/// Worst residual of a state: each opening's flow against its strips, each fan against its curve, each node's
/// mass and heat. Relative to the network's largest flow, pressure and heat.
struct Residuals {
  double opening = 0.0, fan = 0.0, mass = 0.0, heat = 0.0;
};
Residuals independent_residuals(const network::Graph& graph, const network::State& state);

}  // namespace tuft::testing
