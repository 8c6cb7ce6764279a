#include "solver/section/run.hpp"

#include <algorithm>

#include "solver/field/march.hpp"

namespace tuft::section {
namespace {

using field::Array2;

void add(double weight, const Array2& from, Array2* to) {
  for (std::size_t k = 0; k < from.size(); ++k) (*to)[k] += weight * from[k];
}

/// Adds (or, from nothing, starts) a weighted sum of fields.
void add_fields(double weight, const Fields& from, Fields* to) {
  for (std::size_t d = 0; d < 2; ++d) {
    add(weight, from.state.velocity[d], &to->state.velocity[d]);
    add(weight, from.carriers.flow[d], &to->carriers.flow[d]);
    add(weight, from.carriers.conductance[d], &to->carriers.conductance[d]);
  }
  add(weight, from.state.pressure, &to->state.pressure);
  add(weight, from.state.temperature, &to->state.temperature);
  add(weight, from.density, &to->density);
  add(weight, from.carriers.source, &to->carriers.source);
  add(weight, from.carriers.sink, &to->carriers.sink);
}

Fields nothing_like(Fields f) {
  const Fields same = f;
  add_fields(-1.0, same, &f);
  return f;
}

}  // namespace

Run run_in_time(const Model& model, const field::State& start, int steps, double courant, double body) {
  Run run;
  field::Marcher marcher(model.problem, start);
  field::Residual residual(model.problem);
  Fields sum = nothing_like(fields_of(model, start, &residual));
  double low = 1e300, high = 0.0, energy = 0.0, fastest = 0.0;
  for (run.steps = 0; run.steps < steps; ++run.steps) {
    const double dt = marcher.step_for(courant);
    const field::StepSummary step = marcher.step(dt);
    run.finite = run.finite && step.finite;
    if (!run.finite) return run;
    if (2 * run.steps < steps) continue;
    const double kinetic = marcher.kinetic_energy();
    low = std::min(low, kinetic);
    high = std::max(high, kinetic);
    energy += dt * kinetic;
    fastest = std::max(fastest, step.largest);
    run.span += dt;
    add_fields(dt, fields_of(model, marcher.state(), &residual), &sum);
  }
  run.mean = nothing_like(sum);
  if (run.span > 0.0) add_fields(1.0 / run.span, sum, &run.mean);
  run.fluctuation = energy > 0.0 ? (high - low) / (energy / run.span) : 0.0;
  run.passages = run.span * fastest / body;
  return run;
}

}  // namespace tuft::section
