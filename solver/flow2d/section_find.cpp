#include "solver/flow2d/section_find.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include "solver/flow2d/section_run.hpp"

namespace tuft::section {
namespace {

using field::Convection;
using field::NewtonOptions;
using field::NewtonSolver;
using field::NewtonSummary;
using field::State;
using field::StepsEnd;

constexpr double kThicker[] = {256.0, 64.0, 16.0, 4.0};
// The same on a finer grid, when its flow was not found at once.
constexpr double kThickerAgain[] = {16.0, 6.0, 3.0, 2.0, 1.4};
// Bold first steps lead astray where the interpolated start has a jet beside a wall.
constexpr double kFirstCourant = 5.0;

NewtonOptions rough(const NewtonOptions& options) {
  NewtonOptions out = options;
  out.residual_tolerance = std::max(1e-3, options.residual_tolerance);
  out.mass_tolerance = out.energy_tolerance = 1.0;
  out.max_steps = std::min(options.max_steps, 40);
  return out;
}

template <class Factors>
void thicken(const field::Problem& problem, NewtonOptions steps, const Factors& factors, State* state) {
  steps.max_steps = 20;
  for (const double factor : factors) {
    field::Problem thick = problem;
    thick.fluid.viscosity *= factor;
    thick.fluid.conductivity *= factor;
    steps.first_courant = 1e4;
    State candidate = *state;
    if (NewtonSolver(thick).solve(steps, &candidate).end != StepsEnd::converged) return;
    *state = std::move(candidate);
  }
}

void note(const NewtonSummary& summary, Found* found) {
  found->message = summary.message;
  found->steps = summary.steps;
  found->factorisations = summary.factorisations;
  found->linear_iterations = summary.linear_iterations;
  found->residual = summary.residual();
  found->mass = summary.audit.mass;
  found->energy = summary.audit.energy_cells;
}

void raise_order(const Model& model, const SectionOptions& options, State* state, Found* found) {
  field::Problem sharper = model.problem;
  sharper.momentum_scheme = sharper.energy_scheme = options.scheme;
  State candidate = *state;
  const NewtonSummary raised = NewtonSolver(sharper).solve(options.newton, &candidate);
  if (raised.end != StepsEnd::converged) {
    found->message += "; convection of higher order: " + raised.message;
    return;
  }
  *state = std::move(candidate);
  note(raised, found);
  found->first_order = false;
}

/// Whether a steady state was found; else where steps that led nowhere ended is where a run in time starts.
bool find_steady(const Model& model, const SectionOptions& options, State* state, Found* found) {
  NewtonOptions steps = options.newton;
  steps.first_courant = kFirstCourant;
  State candidate = *state, last = *state;
  NewtonSummary summary = NewtonSolver(model.problem).solve(steps, &candidate);
  if (summary.end != StepsEnd::converged) {
    if (summary.end != StepsEnd::diverged) last = candidate;
    candidate = *state;
    thicken(model.problem, rough(options.newton), kThickerAgain, &candidate);
    summary = NewtonSolver(model.problem).solve(steps, &candidate);
  }
  note(summary, found);
  const bool converged = summary.end == StepsEnd::converged;
  *state = std::move(converged ? candidate : last);
  return converged;
}

void average(const Model& model, const State& start, const SectionOptions& options, double body,
             Found* found) {
  RunOptions wanted;
  wanted.max_steps = options.march_steps;
  wanted.courant = options.march_courant;
  wanted.body = body;
  Run run = run_in_time(model, start, wanted);
  found->marched_steps = run.steps;
  char text[240];
  if (!run.finite || run.passages == 0) {
    std::snprintf(text, sizeof text, "; the run in time %s %d steps",
                  run.finite ? "did not see the fastest air pass the device three times in" : "failed after",
                  run.steps);
    found->message += text;
    return;
  }
  found->end = SectionEnd::averaged;
  found->begins = run.begins;
  found->span = run.span;
  found->passages = run.passages;
  found->fluctuation = run.fluctuation;
  found->by_start = run.by_start;
  std::snprintf(
      text, sizeof text,
      "; then %d steps in time, averaged from %.3g s on over %.3g s, %d passages of the device, over "
      "which the kinetic energy varied by %.1e of its mean; by then the shares %s",
      run.steps, run.begins, run.span, run.passages, run.fluctuation,
      run.long_enough ? "stand" : "still move");
  found->message += text;
  found->fields = std::move(run.mean);
  found->tracers = std::move(run.tracers);
  found->drawn = std::move(run.drawn);
}

}  // namespace

State carried(const field::Problem& from, const State& state, const field::Problem& to) {
  State out = field::interpolated(from, state, to);
  if (!to.energy) out.temperature.fill(to.fluid.temperature);
  return out;
}

State rough_start(const Model& model, const SectionOptions& options) {
  State state = field::still_state(model.problem);
  thicken(model.problem, rough(options.newton), kThicker, &state);
  return rough_flow(model, state, options);
}

State rough_flow(const Model& model, const State& start, const SectionOptions& options) {
  NewtonOptions steps = rough(options.newton);
  steps.first_courant = kFirstCourant;
  State candidate = start;
  const bool usable = NewtonSolver(model.problem).solve(steps, &candidate).end != StepsEnd::diverged;
  return usable ? candidate : start;
}

Found find_flow(const Model& model, const State& start, const SectionOptions& options, double body) {
  Found found;
  State state = start;
  if (find_steady(model, options, &state, &found)) {
    found.end = SectionEnd::steady;
    if (options.scheme != Convection::upwind) raise_order(model, options, &state, &found);
  } else if (options.march_steps > 0) {
    average(model, state, options, body, &found);
    if (found.end == SectionEnd::averaged) return found;
  }
  field::Residual residual(model.problem);
  found.fields = fields_of(model, state, &residual);
  const std::vector<int> outlets = outlets_of(model, found.fields.carriers);
  found.tracers = solve_tracers(model, found.fields.carriers, outlets);
  found.drawn = drawn_of(model, found.fields.carriers, outlets, found.tracers);
  return found;
}

}  // namespace tuft::section
