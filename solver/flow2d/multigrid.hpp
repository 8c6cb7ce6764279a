// Geometric multigrid for the pressure equation.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "solver/flow2d/array2.hpp"
#include "solver/flow2d/grid.hpp"

namespace tuft::field {

/// The equation, in every cell P with its four neighbours N:
///
///     sum_N a_PN (x_P - x_N) + d_P x_P = b_P                                   (docs/field.md, F14)
///
/// Coefficients of rim faces couple to x = 0 just beyond (pressure given at an outlet); d holds a cell to 0
/// by itself. A cell none of whose coefficients differs from 0 (a solid) takes no part and keeps x = 0. A
/// body of cells with no such hold fixes x up to a constant: its b is freed of its mean, and so is x.
struct PressureEquation {
  Array2 ax;    ///< through x-faces (nx+1 by ny), >= 0
  Array2 ay;    ///< through y-faces (nx by ny+1), >= 0
  Array2 held;  ///< d of cells, >= 0; empty: 0
};

enum class Smoother {
  automatic,  ///< points on near-uniform coefficients, lines on stretched ones
  points,     ///< red-black Gauss-Seidel
  lines       ///< zebra lines along x, then along y
};

struct MultigridOptions {
  Smoother smoother = Smoother::automatic;
  double tolerance = 1e-10;  ///< of the residual against b, in the root mean square
  int max_cycles = 40;
  bool accelerate = true;  ///< conjugate gradients around cycles that are slow by themselves
};

struct MultigridSummary {
  bool converged = false;
  std::string message = "the solver was not called";
  int cycles = 0;
  std::vector<double> history;  ///< residual over b, at the start and after every cycle
  double reduction() const { return history.empty() ? -1.0 : history.back(); }
};

/// Levels are set up once per equation; solve() allocates nothing on the grid. Same bytes for any thread
/// count.
class Multigrid {
 public:
  Multigrid(const Grid& grid, const PressureEquation& equation, const MultigridOptions& options = {});
  ~Multigrid();
  Multigrid(Multigrid&&) noexcept;
  Multigrid& operator=(Multigrid&&) noexcept;

  /// Improves *x (the start) until the tolerance is met or cycles run out.
  MultigridSummary solve(const Array2& b, Array2* x);

  /// One sweep of the smoother over the finest grid, for measurements.
  void smooth_once();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tuft::field
