// Multigrid with lines as smoother: V(1,1) cycles inside conjugate gradients.
#include <cmath>

#include "solver/flow2d/multigrid_solver.hpp"
#include "solver/flow2d/parallel.hpp"

namespace tuft::field {
namespace {

class LineSolver : public PressureSolver {
 public:
  LineSolver(std::vector<Level> levels, const MultigridOptions& options)
      : levels_(std::move(levels)),
        options_(options),
        bodies_(find_floating_bodies(levels_.front())),
        coarsest_(levels_.back()) {
    for (Level& level : levels_) level.add_lines();
  }

  void solve(const Array2& b, Array2* start, MultigridSummary* summary) override {
    Level& fine = levels_.front();
    const int nx = fine.nx, ny = fine.ny;
    const std::vector<double> means = body_means(bodies_, b);
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) {
        const bool part = fine.inverse.row(j)[i] > 0.0;
        const int body = bodies_.of(i, j);
        fine.rhs.row(j)[i] = part ? b(i, j) - (body >= 0 ? means[static_cast<std::size_t>(body)] : 0.0) : 0.0;
        fine.solution.row(j)[i] = part ? (*start)(i, j) : 0.0;
      }
    const double norm_b = std::sqrt(dot(fine.rhs, fine.rhs));
    Padded image(nx, ny), direction(nx, ny), x;
    fine.residual(&image);
    summary->history.push_back(norm_b > 0.0 ? std::sqrt(dot(image, image)) / norm_b : 0.0);
    if (norm_b > 0.0) {
      x = fine.solution;
      std::swap(fine.rhs, image);
      accelerate(
          options_, norm_b, &x, &fine.rhs, &direction, &image, summary,
          [&]() -> const Padded& {
            fine.solution.clear();
            cycle(0);
            return fine.solution;
          },
          [&](const Padded& d, Padded* out) { return fine.apply(d, out); });
    }
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i) (*start)(i, j) = norm_b > 0.0 ? x.row(j)[i] : 0.0;
    remove_means(bodies_, start);
  }

  void smooth_once() override { levels_.front().smooth(true); }

 private:
  void cycle(std::size_t l) {
    Level& level = levels_[l];
    if (l + 1 == levels_.size()) {
      const std::vector<int>& cells = coarsest_.cells();
      for (std::size_t k = 0; k < cells.size(); ++k)
        coarsest_.values()[k] = level.rhs.row(cells[k] / level.nx)[cells[k] % level.nx];
      coarsest_.solve();
      level.solution.clear();
      for (std::size_t k = 0; k < cells.size(); ++k)
        level.solution.row(cells[k] / level.nx)[cells[k] % level.nx] = coarsest_.values()[k];
      return;
    }
    level.smooth(true);
    Level& coarse = levels_[l + 1];
    level.restrict_residual(&coarse);
    coarse.solution.clear();
    cycle(l + 1);
    level.add_correction(coarse);
    level.smooth(false);
  }

  std::vector<Level> levels_;
  MultigridOptions options_;
  FloatingBodies bodies_;
  Coarsest coarsest_;
};

}  // namespace

std::unique_ptr<PressureSolver> line_solver(std::vector<Level> levels, const MultigridOptions& options) {
  return std::make_unique<LineSolver>(std::move(levels), options);
}

}  // namespace tuft::field
