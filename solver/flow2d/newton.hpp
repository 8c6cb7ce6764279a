// Newton's method on a flow: its steady state by steps in pseudo-time, and one implicit step in time.
#pragma once

#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "solver/flow2d/factors.hpp"
#include "solver/flow2d/system.hpp"

namespace tuft::flow2d {

/// What an observer sees after every step.
struct Progress {
  int nx = 0, ny = 0;           ///< grid being solved
  int step = 0;                 ///< on this grid
  double residual = 0.0;        ///< scaled [-]
  double courant = 0.0;         ///< pseudo-time step in cell passages [-]
  int linear_iterations = 0;    ///< of this step
  bool factored = false;        ///< a new factorisation was made
  double time = -1.0;           ///< of the model, where steps are steps in time [s]; negative: they are not
  double until = -1.0;          ///< where that ends [s]; negative: when it comes to rest
  double rate_of_change = 0.0;  ///< in time: how far the fields go while the air passes once [-]
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
  bool converged() const { return end == StepsEnd::converged; }
  double residual() const { return history.empty() ? -1.0 : history.back(); }
};

struct StepTolerances {
  double residual = 1e-8;  ///< scaled [-]
  double mass = 1e-10;     ///< left over and not stored, over what passes [-]
  double energy = 1e-7;    ///< the same of heat, net and summed over cells [-]
};

/// How one implicit step went.
struct StepSolve {
  bool solved = false;
  int newton = 0, iterations = 0, factorisations = 0;
  double residual = 0.0;
  Audit balance;  ///< with what is stored: the balances of the step
};

/// The unknowns of a flow, their balances, and the preconditioner of Newton's steps on them: factors of the
/// compact Jacobian, kept while they serve (docs/field.md, F12, F25).
class NewtonSolver {
 public:
  /// `flow` as FlowSystem takes it. Where `energy` is on here and off in a solve, temperatures are held, and
  /// with factors apart the flow's serve for the first steps of a solve with it on.
  explicit NewtonSolver(const Flow& flow) : system_(flow), factors_(system_) {}

  /// Steady state from `fields` on, by pseudo-transient continuation (Kelley & Keyes 1998, SIAM J. Numer.
  /// Anal. 35:508-523): every step solves (D/c - J) d = R with GMRES, whose products J v are differences of
  /// the true balances. The Courant number c grows as the residual falls, and Newton's method is left at the
  /// end. The balances last evaluated are those of the fields left.
  NewtonSummary solve(const NewtonOptions& options, Fields* fields);

  /// Solves R(w) = d content(w)/dt for the fields at the end of a step in time (F29), from `fields` (a guess
  /// of them) on: storage takes the place of D/c. They are left as far as Newton's method got.
  StepSolve solve_step(const Storage& storage, const StepTolerances& tolerances, Fields* fields);
  /// Contents of all layers.
  std::vector<State> contents(const Fields& fields);
  /// Evaluates the balances of fields that are given, nothing stored.
  void evaluate(const Fields& fields);
  /// Takes the measures of balances and steps from the fields; factors are made anew where they changed.
  void take_scales(const Fields& fields);
  /// Root mean square of a - b over all velocities and temperatures, each against its own measure [-].
  double distance(const Fields& a, const Fields& b) const;

  FlowSystem& system() { return system_; }
  const FlowSystem& system() const { return system_; }

 private:
  friend class Continuation;
  friend class ShiftedFlow;
  static constexpr int kMostIterations = 40;  ///< of a direction
  static constexpr int kMostInVain = 6;       ///< steps in a row that got none and moved nothing
  /// Whether a step's direction was not found in as many iterations and the residual stands: `fall`, that
  /// after it over that before (judgement).
  static bool in_vain(int iterations, double fall) {
    return iterations >= kMostIterations && std::abs(fall - 1.0) < 0.01;
  }
  int direction(const Fields& fields, const std::vector<double>& balances, double courant, double tolerance,
                std::vector<double>* d);
  void factor_for(const Storage& storage, const Fields& fields);
  double go_along(const std::vector<double>& d, double before, Fields* fields, std::vector<double>* balances);

  FlowSystem system_;
  Factors factors_;
  Fields moved_;                  ///< along a step
  std::vector<double> balances_;  ///< of those
  std::vector<double> inertia_;   ///< per unknown: D at Courant number 1, or empty
  std::vector<double> step_;
  bool flow_kept_ = false;      ///< the flow's factors are those of a state nearby, at the same scales
  double factored_rate_ = 0.0;  ///< c0/step of the factors [1/s]; 0: they are of no step
  int last_iterations_ = 0;
};

}  // namespace tuft::flow2d
