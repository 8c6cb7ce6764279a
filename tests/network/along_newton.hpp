// A whole system's Jacobian against differences, in one direction: along the Newton correction.
#pragma once

#include "solver/network/equations.hpp"

namespace tuft::testing {

/// A state near a solution, every flow, pressure and temperature shifted so that no kink is sat upon.
network::State shifted(const network::State& solved, const network::Equations& equations);

/// If J is the true Jacobian, the Newton correction d of R(x) satisfies dR/d(step) along d = -R(x). Returns
/// the largest scaled |dR/d(step) + R|, by a central difference, over 1 + the largest |R|; infinite where the
/// system can't be solved.
double newton_direction_error(const network::Graph& graph, const network::State& x);

}  // namespace tuft::testing
