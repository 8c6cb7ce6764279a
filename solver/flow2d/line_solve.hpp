// Implicit diffusion by lines: one direction after the other.
#pragma once

#include "solver/flow2d/array2.hpp"

namespace tuft::field {

/// Diffusive couplings of the values on a grid of nodes, with the storage term they stand beside.
struct DiffusionLines {
  Array2 storage;         ///< M > 0 on active nodes [storage / time]
  Array2 west, south;     ///< coupling to the node before along x, along y; 0 at the ends
  Array2 held_x, held_y;  ///< coupling to given values, counted with the lines along x, along y
  Mask active;            ///< other nodes keep 0
};

/// Solves (M + Lx) M^-1 (M + Ly) d = r in place, L being the diffusion operator of each direction: the
/// factored form of M + Lx + Ly (Douglas & Gunn 1964, Numer. Math. 6:428-453), which differs by Lx M^-1 Ly d
/// alone.
void solve_by_lines(const DiffusionLines& lines, Array2* r);

}  // namespace tuft::field
