#include "solver/section/run.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/field/march.hpp"

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

/// Largest difference of a share drawn again.
double apart(const Drawn& a, const Drawn& b) {
  double most = 0.0;
  for (std::size_t k = 0; k < a.taken.size(); ++k)
    for (std::size_t v = 0; v < a.inflow.size(); ++v) most = std::max(most, std::abs(a.share(k, v) - b.share(k, v)));
  return most;
}

/// The last two thirds of the passages as the window.
void set_window(const std::vector<Sums>& passages, double tolerance, Run* run) {
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
  run->long_enough = apart(early.drawn, late.drawn) <= tolerance &&
                     std::abs(early.mean_energy() - late.mean_energy()) <= 2.0 * tolerance * energy;
  run->early = early.drawn;
  run->late = late.drawn;
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
    set_window(passages, options.tolerance, &run);
    if (run.long_enough) return run;
  }
  if (passages.size() >= 3) set_window(passages, options.tolerance, &run);
  return run;
}

}  // namespace tuft::section
