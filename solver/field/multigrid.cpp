#include "solver/field/multigrid.hpp"

#include <algorithm>
#include <cstdio>

#include "solver/field/multigrid_level.hpp"
#include "solver/field/multigrid_solver.hpp"

namespace tuft::field {

struct Multigrid::Impl {
  MultigridOptions options;
  std::unique_ptr<PressureSolver> solver;
};

Multigrid::Multigrid(const Grid& grid, const PressureEquation& equation, const MultigridOptions& options)
    : impl_(new Impl) {
  impl_->options = options;
  std::vector<Level> levels;
  levels.emplace_back(grid.x, grid.y);
  for (int j = 0; j < grid.ny(); ++j)
    for (int i = 0; i < grid.nx(); ++i) {
      levels[0].west.row(j)[i] = equation.ax(i, j);
      levels[0].south.row(j)[i] = equation.ay(i, j);
      if (i + 1 == grid.nx()) levels[0].west.row(j)[i + 1] = equation.ax(i + 1, j);
      if (j + 1 == grid.ny()) levels[0].south.row(j + 1)[i] = equation.ay(i, j + 1);
      levels[0].held.row(j)[i] = equation.held.empty() ? 0.0 : equation.held(i, j);
    }
  const bool lines = options.smoother == Smoother::lines ||
                     (options.smoother == Smoother::automatic && levels[0].anisotropy() > 2.5);
  levels[0].finish_setup();
  const int smallest = lines ? 12 : 6;
  while (std::max(levels.back().nx, levels.back().ny) > smallest && may_coarsen(levels.back())) {
    Level next = coarser(&levels.back());
    next.finish_setup();
    levels.push_back(std::move(next));
  }
  impl_->solver = lines ? line_solver(std::move(levels), options) : point_solver(levels, options);
}

Multigrid::~Multigrid() = default;
Multigrid::Multigrid(Multigrid&&) noexcept = default;
Multigrid& Multigrid::operator=(Multigrid&&) noexcept = default;

void Multigrid::smooth_once() { impl_->solver->smooth_once(); }

MultigridSummary Multigrid::solve(const Array2& b, Array2* x) {
  MultigridSummary summary;
  impl_->solver->solve(b, x, &summary);
  summary.converged = summary.history.back() <= impl_->options.tolerance;
  char text[96];
  std::snprintf(text, sizeof text, "%s: residual %.2e of b after %d cycles",
                summary.converged ? "converged" : "not converged", summary.history.back(), summary.cycles);
  summary.message = text;
  return summary;
}

}  // namespace tuft::field
