#include "solver/flow2d/section_run.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <utility>

namespace tuft::flow2d {
namespace {

void add(double weight, const Array2& from, Array2* to) {
  for (std::size_t k = 0; k < from.size(); ++k) (*to)[k] += weight * from[k];
}

void add_fields(double weight, const Moment& from, Moment* to) {
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

Sums sum_of(const std::vector<Sums>& passages, std::size_t from, std::size_t to) {
  Sums all;
  for (std::size_t k = from; k < to; ++k) all.add(passages[k]);
  return all;
}

/// Time the outlets' air stays in the plane: what is there of it over what comes [s].
double residence(const SectionModel& model, const Moment& fields, const Tracers& tracers) {
  const Grid& grid = model.problem.grid;
  double content = 0.0, comes = 0.0;
  for (int j = 0; j < grid.ny(); ++j)
    for (int i = 0; i < grid.nx(); ++i) {
      double share = 0.0;
      for (const Array2& s : tracers.share) share += s(i, j);
      content += share * fields.density(i, j) * grid.x.widths()[i] * grid.y.widths()[j];
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

// Of a passage of the fastest air, no step in time is shorter: some cells.
constexpr double kShortest = 0.02;

/// The means of a run in time.
void take_window(ShareMonitor& monitor, Found* found) {
  found->end = SectionEnd::averaged;
  found->begins = monitor.begins;
  found->span = monitor.span;
  found->passages = monitor.passages;
  found->fluctuation = monitor.fluctuation;
  found->by_start = monitor.by_start;
  char text[240];
  std::snprintf(text, sizeof text,
                ", averaged from %.3g s on over %.3g s, %d passages of the device, over which the kinetic "
                "energy varied by %.1e of its mean; by then the shares %s",
                monitor.begins, monitor.span, monitor.passages, monitor.fluctuation,
                monitor.long_enough ? "stand" : "still move");
  found->message += text;
  found->fields = std::move(monitor.window.fields);
  found->tracers = std::move(monitor.window.tracers);
  found->drawn = std::move(monitor.window.drawn);
}

}  // namespace

void Sums::add(double dt, double energy, const Moment& f, const Tracers& t, const DrawnAir& d) {
  take(dt, f, t, d);
  time += dt;
  kinetic += dt * energy;
  low = std::min(low, energy);
  high = std::max(high, energy);
}

void Sums::add(const Sums& s) {
  take(1.0, s.fields, s.tracers, s.drawn);
  time += s.time;
  kinetic += s.kinetic;
  low = std::min(low, s.low);
  high = std::max(high, s.high);
}

/// The first sample gives the shapes.
void Sums::take(double weight, const Moment& f, const Tracers& t, const DrawnAir& d) {
  if (time == 0.0) {
    fields = f;
    tracers = t;
    drawn = d;
    scale(weight);
    return;
  }
  add_fields(weight, f, &fields);
  for (std::size_t k = 0; k < t.share.size(); ++k) flow2d::add(weight, t.share[k], &tracers.share[k]);
  flow2d::add(weight, t.room, &tracers.room);
  tracers.error = std::max(tracers.error, t.error);
  drawn.add(weight, d);
}

void Sums::scale(double factor) {
  add_fields(factor - 1.0, Moment(fields), &fields);
  for (Array2& s : tracers.share)
    for (std::size_t k = 0; k < s.size(); ++k) s[k] *= factor;
  for (std::size_t k = 0; k < tracers.room.size(); ++k) tracers.room[k] *= factor;
  drawn.add(factor - 1.0, DrawnAir(drawn));
}

ShareMonitor::ShareMonitor(const SectionModel& model, const State& start, double body, double tolerance)
    : ShareMonitor(model, moment_of(model, start), body, tolerance) {}

ShareMonitor::ShareMonitor(const SectionModel& model, Moment start, double body, double tolerance)
    : model_(model),
      body_(body),
      tolerance_(tolerance),
      residual_(model.problem),
      tracers_(model, start.carriers, outlets_of(model, start.carriers)),
      renewal_(residence(model, start, tracers_.now())) {}

double ShareMonitor::passed(const March& march, const MarchStep& step) {
  double fastest = 0.0;
  for (const Array2& u : march.fields().layers[0].velocity)
    for (const double v : u.values()) fastest = std::max(fastest, std::abs(v));
  travelled_ += step.step * fastest;
  return step.step * fastest / body_;
}

bool ShareMonitor::take(const March& march, const MarchStep& step) {
  const Moment now = moment_of(model_, march.fields().layers[0], &residual_);
  tracers_.step(now.carriers, now.density, step.step);
  passage_.add(step.step, march.kinetic_energy(), now, tracers_.now(),
               drawn_of(model_, now.carriers, tracers_.outlets(), tracers_.now()));
  if (travelled_ < body_) return false;
  travelled_ = 0.0;
  whole_.push_back(std::move(passage_));
  passage_ = {};
  if (whole_.size() % 3 == 0) set_window();
  return long_enough;
}

/// The last two thirds of the passages.
void ShareMonitor::set_window() {
  const std::size_t third = whole_.size() / 3, from = whole_.size() - 2 * third;
  const Sums early = sum_of(whole_, from, from + third), late = sum_of(whole_, from + third, whole_.size());
  window = early;
  window.add(late);
  passages = static_cast<int>(2 * third);
  begins = 0.0;
  for (std::size_t k = 0; k < from; ++k) begins += whole_[k].time;
  span = window.time;
  const double energy = window.mean_energy();
  fluctuation = energy > 0.0 ? (window.high - window.low) / energy : 0.0;
  by_start = shares_may_move(early, late, renewal_);
  double most = may_move(early.mean_energy() - late.mean_energy(), 0.5 * span, renewal_) / (2.0 * energy);
  for (const auto& row : by_start)
    for (const double x : row) most = std::max(most, x);
  long_enough = energy == 0.0 || most <= tolerance_;
  window.scale(1.0 / span);
}

Found find_flow(const SectionModel& model, Driver* driver, int level, Fields start,
                const SectionOptions& options, double body) {
  DriverOptions wanted;
  wanted.scheme = options.scheme;
  wanted.newton = options.newton;
  wanted.in_time.march.passage = body / scales_of(model.problem, nullptr).velocity;
  wanted.in_time.march.shortest_share = kShortest;
  wanted.in_time.most_steps = options.march_steps;
  wanted.in_time.monitor = [&](const Fields& from, double) {
    return std::make_unique<ShareMonitor>(model, from.layers[0], body);
  };
  FoundFlow flow = driver->find(level, true, wanted, std::move(start));
  Found found;
  found.message = flow.message;
  found.steadiness = flow.steadiness();
  found.marched_steps = flow.marched_steps;
  if (flow.end == FlowEnd::averaged) {
    take_window(static_cast<ShareMonitor&>(*flow.monitor), &found);
    return found;
  }
  if (flow.steady()) found.end = SectionEnd::steady;
  found.first_order = flow.first_order;
  found.steps = flow.newton.steps;
  found.factorisations = flow.newton.factorisations;
  found.linear_iterations = flow.newton.linear_iterations;
  found.residual = flow.newton.residual();
  found.mass = flow.newton.audit.mass;
  found.energy = flow.newton.audit.energy_cells;
  found.fields = moment_of(model, flow.fields.layers[0]);
  const std::vector<int> outlets = outlets_of(model, found.fields.carriers);
  found.tracers = solve_tracers(model, found.fields.carriers, outlets);
  found.drawn = drawn_of(model, found.fields.carriers, outlets, found.tracers);
  return found;
}

}  // namespace tuft::flow2d
