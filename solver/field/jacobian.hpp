// The derivative of the compact balances, by differences taken many columns at a time.
#pragma once

#include <vector>

#include "solver/field/residual.hpp"
#include "solver/field/unknowns.hpp"

namespace tuft::field {

/// Entries d residual / d unknown at `state` in the order of unknowns.pattern(), of the compact balances
/// frozen there. Columns three cells apart share no balance, so nine colours a kind of unknown (36
/// evaluations) give the whole matrix whatever its size (Curtis, Powell & Reid 1974, J. Inst. Maths Applics
/// 13:117-119). `step` is the difference taken for each kind.
std::vector<double> compact_jacobian(const Unknowns& unknowns, const State& state, const double (&step)[4],
                                     Residual* residual);

}  // namespace tuft::field
