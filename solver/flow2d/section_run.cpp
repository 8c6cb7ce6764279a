#include "solver/flow2d/section_run.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/flow2d/march.hpp"

namespace tuft::section {
namespace {

using field::Array2;

// The flow is looked at, and tracers carried on, once in so many steps: they are a fraction of a cell long.
constexpr int kEvery = 4;
// A mean takes no harm from mass that is left over for one step: the next one makes it good.
constexpr double kPressureTolerance = 1e-5;

void add(double weight, const Array2& from, Array2* to) {
  for (std::size_t k = 0; k < from.size(); ++k) (*to)[k] += weight * from[k];
}

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

/// Sums over one passage, or over several.
struct Sums {
  double time = 0.0, kinetic = 0.0, low = 1e300, high = 0.0;
  Fields fields;
  Tracers tracers;
  Drawn drawn;

  void add(double dt, double energy, const Fields& f, const Tracers& t, const Drawn& d) {
    take(dt, f, t, d);
    time += dt;
    kinetic += dt * energy;
    low = std::min(low, energy);
    high = std::max(high, energy);
  }

  void add(const Sums& s) {
    take(1.0, s.fields, s.tracers, s.drawn);
    time += s.time;
    kinetic += s.kinetic;
    low = std::min(low, s.low);
    high = std::max(high, s.high);
  }

  /// The first sample gives the shapes.
  void take(double weight, const Fields& f, const Tracers& t, const Drawn& d) {
    if (time == 0.0) {
      fields = f;
      tracers = t;
      drawn = d;
      scale(weight);
      return;
    }
    add_fields(weight, f, &fields);
    for (std::size_t k = 0; k < t.share.size(); ++k) section::add(weight, t.share[k], &tracers.share[k]);
    section::add(weight, t.room, &tracers.room);
    tracers.error = std::max(tracers.error, t.error);
    drawn.add(weight, d);
  }

  void scale(double factor) {
    add_fields(factor - 1.0, Fields(fields), &fields);
    for (Array2& s : tracers.share)
      for (std::size_t k = 0; k < s.size(); ++k) s[k] *= factor;
    for (std::size_t k = 0; k < tracers.room.size(); ++k) tracers.room[k] *= factor;
    drawn.add(factor - 1.0, Drawn(drawn));
  }

  double mean_energy() const { return time > 0.0 ? kinetic / time : 0.0; }
};

Sums sum_of(const std::vector<Sums>& passages, std::size_t from, std::size_t to) {
  Sums all;
  for (std::size_t k = from; k < to; ++k) all.add(passages[k]);
  return all;
}

/// Time the outlets' air stays in the plane: what is there of it over what comes [s].
double residence(const Model& model, const Fields& fields, const Tracers& tracers) {
  const field::Grid& grid = model.problem.grid;
  double content = 0.0, comes = 0.0;
  for (int j = 0; j < grid.ny(); ++j)
    for (int i = 0; i < grid.nx(); ++i) {
      double share = 0.0;
      for (const Array2& s : tracers.share) share += s(i, j);
      content += share * fields.density(i, j) * grid.x.widths()[static_cast<std::size_t>(i)] *
                 grid.y.widths()[static_cast<std::size_t>(j)];
      comes += fields.carriers.source(i, j);
    }
  return comes > 0.0 ? content / comes : 0.0;
}

/// What a mean may still move that changed by `change` from one half of its window, `half` [s] long, to the
/// other: half of that, and as much as goes on at this rate while the air is renewed once.
double may_move(double change, double half, double renewal) {
  return std::abs(change) * std::max(1.0, 0.5 + renewal / half);
}

std::vector<std::vector<double>> shares_may_move(const Sums& early, const Sums& late, double renewal) {
  std::vector<std::vector<double>> out;
  for (std::size_t k = 0; k < late.drawn.taken.size(); ++k) {
    out.emplace_back();
    for (std::size_t v = 0; v < late.drawn.inflow.size(); ++v)
      out.back().push_back(may_move(late.drawn.share(k, v) - early.drawn.share(k, v),
                                    0.5 * (early.time + late.time), renewal));
  }
  return out;
}

/// The last two thirds of the passages as the window.
void set_window(const std::vector<Sums>& passages, double tolerance, double renewal, Run* run) {
  const std::size_t third = passages.size() / 3, from = passages.size() - 2 * third;
  Sums early = sum_of(passages, from, from + third), late = sum_of(passages, from + third, passages.size());
  Sums all = early;
  all.add(late);
  run->passages = static_cast<int>(2 * third);
  run->begins = 0.0;
  for (std::size_t k = 0; k < from; ++k) run->begins += passages[k].time;
  run->span = all.time;
  const double energy = all.mean_energy();
  run->fluctuation = energy > 0.0 ? (all.high - all.low) / energy : 0.0;
  run->by_start = shares_may_move(early, late, renewal);
  double most = may_move(early.mean_energy() - late.mean_energy(), 0.5 * all.time, renewal) / (2.0 * energy);
  for (const auto& row : run->by_start)
    for (const double x : row) most = std::max(most, x);
  run->long_enough = energy == 0.0 || most <= tolerance;
  all.scale(1.0 / all.time);
  run->mean = std::move(all.fields);
  run->tracers = std::move(all.tracers);
  run->drawn = std::move(all.drawn);
}

}  // namespace

Run run_in_time(const Model& model, const field::State& start, const RunOptions& options) {
  Run run;
  field::MarchOptions march;
  march.pressure_tolerance = kPressureTolerance;
  field::Marcher marcher(model.problem, start, march);
  field::Residual residual(model.problem);
  Fields now = fields_of(model, start, &residual);
  TracerMarcher tracers(model, now.carriers, outlets_of(model, now.carriers));
  const double renewal = residence(model, now, tracers.now());
  std::vector<Sums> passages;
  Sums passage;
  double travelled = 0.0, since = 0.0;
  while (run.steps < options.max_steps) {
    const double dt = marcher.step_for(options.courant);
    const field::StepSummary step = marcher.step(dt);
    ++run.steps;
    run.finite = step.finite;
    if (!run.finite) return run;
    travelled += dt * step.largest;
    since += dt;
    if (run.steps % kEvery != 0) continue;
    now = fields_of(model, marcher.state(), &residual);
    tracers.step(now.carriers, now.density, since);
    passage.add(since, marcher.kinetic_energy(), now, tracers.now(),
                drawn_of(model, now.carriers, tracers.outlets(), tracers.now()));
    since = 0.0;
    if (travelled < options.body) continue;
    travelled = 0.0;
    passages.push_back(std::move(passage));
    passage = {};
    if (passages.size() % 3 != 0) continue;
    set_window(passages, options.tolerance, renewal, &run);
    if (run.long_enough) return run;
  }
  if (passages.size() >= 3) set_window(passages, options.tolerance, renewal, &run);
  return run;
}

}  // namespace tuft::section
