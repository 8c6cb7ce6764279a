// The flows that renew the unknowns' volumes: what weighs a step in pseudo-time.
#pragma once

#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/unknowns.hpp"

namespace tuft::field {

/// D at Courant number 1 (docs/field.md, F12): mass flow [kg/s] that renews each unknown's volume, of the
/// balances `residual` evaluated last, and at least what the mean flow would; of temperatures times cp [W/K];
/// 0 for pressures. `out` has one entry an unknown.
void set_renewal(const Residual& residual, const Unknowns& unknowns, double* out);

}  // namespace tuft::field
