// One grid's steady state by Newton steps in pseudo-time.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "solver/flow2d/audit.hpp"
#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/state.hpp"

namespace tuft::field {

/// What an observer sees after every step.
struct Progress {
  int nx = 0, ny = 0;         ///< grid being solved
  int step = 0;               ///< on this grid
  double residual = 0.0;      ///< scaled [-]
  double courant = 0.0;       ///< pseudo-time step in cell passages [-]
  int linear_iterations = 0;  ///< of this step
  bool factored = false;      ///< a new factorisation was made
  double time = -1.0;         ///< of the model, where steps are steps in time [s]; negative: they are not
  double until = -1.0;        ///< where that ends [s]; negative: when it comes to rest
  double unrest = 0.0;        ///< in time: how far the fields go while the air passes once [-]
};

struct NewtonOptions {
  double residual_tolerance = 1e-9;  ///< scaled residual norm
  double mass_tolerance = 1e-10;     ///< Audit::mass
  double energy_tolerance = 1e-7;    ///< Audit::energy and energy_cells
  int max_steps = 80;
  double first_courant = 20.0;
  double last_courant = 1e12;  ///< beyond it a step is Newton's own
  std::function<void(const Progress&)> observer;
};

enum class StepsEnd { converged, stagnated, diverged, step_limit };

struct NewtonSummary {
  StepsEnd end = StepsEnd::step_limit;
  std::string message = "the solver was not called";
  int steps = 0, factorisations = 0, linear_iterations = 0;
  std::vector<double> history;  ///< scaled residual, at the start and after every step
  Audit audit;
  double residual() const { return history.empty() ? -1.0 : history.back(); }
};

/// Steady state of one grid, from `state` on, by pseudo-transient continuation (Kelley & Keyes 1998, SIAM J.
/// Numer. Anal. 35:508-523): every step solves (D/c - J) d = R with GMRES, whose products J v are differences
/// of the true balances, preconditioned by an LU factorisation of the compact Jacobian that is kept while it
/// serves. The Courant number c grows as the residual falls, and Newton's method is left at the end
/// (docs/field.md, F12).
class NewtonSolver {
 public:
  explicit NewtonSolver(const Problem& problem);
  ~NewtonSolver();
  NewtonSummary solve(const NewtonOptions& options, State* state);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace tuft::field
