#include "solver/flow2d/multigrid.hpp"

#include <algorithm>
#include <cstdio>

#include "solver/flow2d/multigrid_level.hpp"
#include "solver/flow2d/multigrid_solver.hpp"

namespace tuft::field {

struct Multigrid::Impl {
  MultigridOptions options;
  std::unique_ptr<PressureSolver> solver;
};

Multigrid::Multigrid(const Grid& grid, const PressureEquation& equation, const MultigridOptions& options)
    : impl_(new Impl) {
  impl_->options = options;
  std::vector<Level> levels;
  levels.reserve(16);
  // The point solver keeps coefficients in an order of its own: it only looks at these while it is set up.
  levels.emplace_back(grid.x, grid.y,
                      std::shared_ptr<const PressureEquation>(&equation, [](const PressureEquation*) {}));
  const bool lines =
      options.smoother == Smoother::lines || (options.smoother == Smoother::automatic && levels[0].stretched);
  if (lines) levels[0].equation = std::make_shared<const PressureEquation>(equation);
  const int smallest = lines ? 12 : 6;
  while (std::max(levels.back().nx, levels.back().ny) > smallest && may_coarsen(levels.back())) {
    Level next = coarser(&levels.back());
    levels.push_back(std::move(next));
  }
  impl_->solver = lines ? line_solver(std::move(levels), options) : point_solver(std::move(levels), options);
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
