#include "solver/flow2d/solve.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "solver/flow2d/march.hpp"
#include "solver/flow2d/unknowns.hpp"

namespace tuft::field {
namespace {

std::size_t closed_bodies(const Problem& problem) {
  const Mesh mesh(problem);
  return Unknowns(problem, mesh).level_cells().size();
}

/// The problem and its coarser versions, finest first. A grid on which passages have closed is not used.
std::vector<Problem> grids(const Problem& problem, const SteadyOptions& options) {
  std::vector<Problem> out{problem};
  const std::size_t bodies = options.coarse_start ? closed_bodies(problem) : 0;
  while (options.coarse_start &&
         std::min(out.back().grid.nx(), out.back().grid.ny()) >= 2 * options.coarsest) {
    Problem coarse = coarsened(out.back());
    // Coarse cells are coarse in Peclet number too: the scheme that always
    // converges there, whatever the fine grid uses.
    coarse.momentum_scheme = coarse.energy_scheme = Convection::upwind;
    if (closed_bodies(coarse) != bodies) break;
    out.push_back(std::move(coarse));
  }
  return out;
}

/// On the coarsest grid: first far thicker, better conducting air, whose flow is easily found, then thinner
/// by steps.
void start_from_thick_air(const Problem& problem, const NewtonOptions& rough, State* state) {
  NewtonOptions options = rough;
  options.max_steps = 15;
  for (const double factor : {64.0, 16.0, 4.0}) {
    Problem thick = problem;
    thick.fluid.viscosity *= factor;
    thick.fluid.conductivity *= factor;
    options.first_courant = 1e4;
    State candidate = *state;
    const NewtonSummary summary = NewtonSolver(thick).solve(options, &candidate);
    if (summary.end != StepsEnd::converged) return;
    *state = std::move(candidate);
  }
}

/// A start from coarser grids. They need not be solved far, and one that fails is simply not much of a start.
void start_from_coarse(const std::vector<Problem>& levels, const SteadyOptions& options, State* state) {
  NewtonOptions rough = options.newton;
  rough.residual_tolerance = std::max(1e-3, options.newton.residual_tolerance);
  rough.mass_tolerance = rough.energy_tolerance = 1.0;
  State coarse = still_state(levels.back());
  start_from_thick_air(levels.back(), rough, &coarse);
  for (std::size_t l = levels.size() - 1; l > 0; --l) {
    const State start = coarse;
    const NewtonSummary summary = NewtonSolver(levels[l]).solve(rough, &coarse);
    rough.first_courant = summary.end == StepsEnd::converged ? 1e5 : options.newton.first_courant;
    if (summary.end == StepsEnd::diverged) coarse = start;
    coarse = interpolated(levels[l], coarse, levels[l - 1]);
  }
  *state = std::move(coarse);
}

bool is_upwind(const Problem& problem) {
  return problem.momentum_scheme == Convection::upwind && problem.energy_scheme == Convection::upwind;
}

/// The same problem with upwind convection, whose compact Jacobian is exact.
bool start_from_upwind(const Problem& problem, const NewtonOptions& newton, State* state) {
  Problem upwind = problem;
  upwind.momentum_scheme = upwind.energy_scheme = Convection::upwind;
  State candidate = *state;
  const NewtonSummary summary = NewtonSolver(upwind).solve(newton, &candidate);
  if (summary.end != StepsEnd::converged) return false;
  *state = std::move(candidate);
  return true;
}

std::string returned(const SteadySummary& summary) {
  return summary.first_order_state ? "; the state returned is the converged upwind solution" : "";
}

/// Runs in time; returns how much the kinetic energy still fluctuates, negative when the run failed.
double march(const Problem& problem, const SteadyOptions& options, State* state, int* steps) {
  Marcher marcher(problem, *state);
  double low = 1e300, high = 0.0, sum = 0.0;
  int counted = 0;
  for (*steps = 0; *steps < options.march_steps; ++*steps) {
    const StepSummary step = marcher.step(marcher.step_for(options.march_courant));
    if (!step.finite) return -1.0;
    if (2 * *steps < options.march_steps) continue;
    const double energy = marcher.kinetic_energy();
    low = std::min(low, energy);
    high = std::max(high, energy);
    sum += energy;
    ++counted;
  }
  *state = marcher.state();
  return sum > 0.0 ? (high - low) / (sum / counted) : 0.0;
}

}  // namespace

SteadySummary solve_steady(const Problem& problem, const SteadyOptions& options, State* state) {
  SteadySummary summary;
  std::string fault = problem.problem();
  if (fault.empty() && !problem.coupled.empty())
    fault = "coupled is given: the problem exchanges air with something this solver does not know";
  if (!fault.empty()) {
    summary.end = SteadyEnd::invalid_problem;
    summary.message = fault;
    return summary;
  }
  NewtonOptions newton = options.newton;
  const std::vector<Problem> levels = grids(problem, options);
  summary.coarse_grids = static_cast<int>(levels.size()) - 1;
  if (options.coarse_start) start_from_coarse(levels, options, state);
  if (summary.coarse_grids > 0) newton.first_courant = std::max(newton.first_courant, 1e5);
  NewtonSolver solver(problem);
  const State start = *state;
  summary.newton = solver.solve(newton, state);
  if (summary.newton.end == StepsEnd::converged) {
    summary.end = SteadyEnd::converged;
    summary.message = summary.newton.message;
    return summary;
  }
  std::string first_failure = summary.newton.message;
  State fallback = *state;
  if (options.first_order_attempt && !is_upwind(problem)) {
    State candidate = start;
    if (start_from_upwind(problem, newton, &candidate)) {
      summary.first_order_state = true;
      fallback = candidate;
      newton.first_courant = options.newton.first_courant;
      summary.newton = solver.solve(newton, &candidate);
      if (summary.newton.end == StepsEnd::converged) {
        *state = std::move(candidate);
        summary.first_order_state = false;
        summary.end = SteadyEnd::converged;
        summary.message =
            "first attempt: " + first_failure + "; from the upwind solution: " + summary.newton.message;
        return summary;
      }
      first_failure += "; from the upwind solution: " + summary.newton.message;
    }
  }
  if (options.march_steps <= 0) {
    *state = std::move(fallback);
    summary.message = first_failure + returned(summary);
    return summary;
  }
  *state = summary.first_order_state ? fallback : start;
  summary.fluctuation = march(problem, options, state, &summary.marched_steps);
  if (summary.fluctuation < 0.0) {
    *state = std::move(fallback);
    summary.message = first_failure + "; the time-accurate run failed after " +
                      std::to_string(summary.marched_steps) + " steps" + returned(summary);
    return summary;
  }
  newton.first_courant = options.newton.first_courant;
  State candidate = *state;
  summary.newton = solver.solve(newton, &candidate);
  char text[160];
  std::snprintf(
      text, sizeof text,
      "; then %d time-accurate steps, over whose second half the kinetic energy varied by %.1e of its mean",
      summary.marched_steps, summary.fluctuation);
  if (summary.newton.end == StepsEnd::converged) {
    *state = std::move(candidate);
    summary.first_order_state = false;
    summary.end = SteadyEnd::converged;
    summary.message = "first attempt: " + first_failure + text + "; last attempt: " + summary.newton.message;
    return summary;
  }
  summary.end = summary.fluctuation > 1e-3 ? SteadyEnd::unsteady : SteadyEnd::not_converged;
  summary.message = first_failure + text + "; last attempt: " + summary.newton.message;
  if (summary.first_order_state && summary.end != SteadyEnd::unsteady)
    *state = std::move(fallback);
  else
    summary.first_order_state = false;
  summary.message += returned(summary);
  return summary;
}

}  // namespace tuft::field
