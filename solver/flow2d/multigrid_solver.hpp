// The two kinds of multigrid behind Multigrid: point-smoothed and line-smoothed.
#pragma once

#include <memory>
#include <vector>

#include "solver/flow2d/multigrid_coarsest.hpp"

namespace tuft::field {

class PressureSolver {
 public:
  PressureSolver() = default;
  PressureSolver(const PressureSolver&) = delete;
  PressureSolver& operator=(const PressureSolver&) = delete;
  virtual ~PressureSolver() = default;
  /// Fills in cycles and history; *x is the start and the result.
  virtual void solve(const Array2& b, Array2* x, MultigridSummary* summary) = 0;
  virtual void smooth_once() = 0;
};

/// Red-black points, for near-uniform coefficients. `levels` from the finest on, set up.
std::unique_ptr<PressureSolver> point_solver(std::vector<Level> levels, const MultigridOptions& options);

/// Zebra lines both ways, for stretched grids.
std::unique_ptr<PressureSolver> line_solver(std::vector<Level> levels, const MultigridOptions& options);

}  // namespace tuft::field
