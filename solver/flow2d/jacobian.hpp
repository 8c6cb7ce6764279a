// The compact Jacobian: entries of the sparse matrix that preconditions Newton's steps.
#pragma once

#include <vector>

#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/unknowns.hpp"

namespace tuft::field {

/// Rows of a Jacobian.
enum class Rows {
  flow,  ///< momentum and mass
  heat,
  all
};

/// d(balance)/d(unknown) of the compact residual at the state whose balances `residual` evaluated last, into
/// *values, which is as long as the unknowns' pattern and in its order; entries of other rows stay.
void compact_jacobian(const Unknowns& unknowns, const Residual& residual, const State& state, Rows rows,
                      double* values);

}  // namespace tuft::field
