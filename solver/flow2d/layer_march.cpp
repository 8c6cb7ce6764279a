#include "solver/flow2d/layer_march.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tuft::plan {
namespace {

constexpr double kMostGrowth = 2.0;  // of a step; zero-stable below 1 + sqrt 2 (Grigorieff 1983, from memory)
constexpr double kLeastGrowth = 0.3;
constexpr double kSafety = 0.9;
constexpr double kJoltMost = 1.01;
constexpr int kMostRestarts = 6;
constexpr int kMostTries = 20;        // begun for one step
constexpr int kAirRounds = 8;         // of heat stores and the air they warm
constexpr double kAirFault = 1e-7;    // of all heat given, left between the two
constexpr double kFirstShare = 1e-3;  // of a passage, the first step
constexpr double kJolt = 0.02;        // of the first step: what settles at once has done so in it

/// a x + b y + c z of every value.
Fields combined(double a, const Fields& x, double b, const Fields& y, double c, const Fields& z) {
  Fields out = x;
  const auto blend = [&](double* o, const double* p, const double* q, const double* r, std::size_t n) {
    for (std::size_t k = 0; k < n; ++k) o[k] = a * p[k] + b * q[k] + c * r[k];
  };
  const auto parts = [](field::State& s) {
    return std::array<field::Array2*, 4>{&s.velocity[0], &s.velocity[1], &s.pressure, &s.temperature};
  };
  for (std::size_t l = 0; l < x.layers.size(); ++l) {
    field::State p = x.layers[l], q = y.layers[l], r = z.layers[l];
    const auto P = parts(p), Q = parts(q), R = parts(r), O = parts(out.layers[l]);
    for (std::size_t k = 0; k < 4; ++k)
      blend(O[k]->data(), P[k]->data(), Q[k]->data(), R[k]->data(), O[k]->size());
  }
  blend(out.own.data(), x.own.data(), y.own.data(), z.own.data(), out.own.size());
  return out;
}

}  // namespace

struct March::Impl {
  Impl(Model m, const Magnitudes& magnitudes, Fields begin, const Given& given,
       const std::vector<HeatStore>& lumps, const MarchOptions& o)
      : model(std::move(m)), stores(lumps, given, &model), solver(model, magnitudes), options(o) {
    now = std::move(begin);
    solver.impose(&now);
    solver.take_scales(now);
    before = last = now;
    content_now = solver.contents(now);
    content_before = content_now;
    given_heat = std::max({model.power, stores.swing(), 1e-3});
    shortest = options.shortest_share * passage(magnitudes);
    wanted = options.first_step > 0.0 ? options.first_step : kFirstShare * passage(magnitudes);
    wanted = std::max(wanted, shortest);
    solver.evaluate(now);
  }

  /// Time the mean flow takes along the device, about [s].
  double passage(const Magnitudes& magnitudes) const {
    const field::Problem& p = model.layers.front().problem;
    double depth = 0.0;
    for (const double h : p.depth.values()) depth = std::max(depth, h);
    return p.fluid.density * p.grid.x.length() * p.grid.y.length() * depth / magnitudes.flow;
  }

  /// What the last states promise for `h` from now: a parabola, a line, or what there is.
  Fields promised(double h) const {
    if (past == 0) return now;
    if (past == 1) return combined(1.0 + h / h1, now, -h / h1, before, 0.0, last);
    const double a = h1 + h2;
    return combined((h + h1) * (h + a) / (h1 * a), now, -h * (h + a) / (h1 * h2), before,
                    h * (h + h1) / (a * h2), last);
  }

  /// Share of what solution and promise are apart that is the step's own error: third differences of the two
  /// formulas (of first order at the second step, where no parabola is known).
  double share_of_error(double h) const {
    if (past < 2) return h / (2.0 * h + h1);
    const double own = h * h * (h + h1) * (h + h1) / (2.0 * h + h1), promise = h * (h + h1) * (h + h1 + h2);
    return own / (own + promise);
  }

  /// What the first step's error would be with what the second shows of the course's curvature, over the
  /// tolerance: that of the first-order formula.
  double error_of_first(double h, double apart) const {
    return apart * h1 * h1 / (h * (2.0 * h + h1)) / options.tolerance;
  }

  /// Back to the start, with a shorter first step.
  void start_again(double shorter) {
    now = before;
    content_now = content_before;
    stores.go_back();
    solver.take_scales(now);
    time -= h1;
    wanted = shorter;
    h1 = h2 = 0.0;
    past = 0;
  }

  /// Pressures, and what velocities the vents allow, follow at once when something is shut or switched; a
  /// step of no length to speak of lets them, so that no error is seen in it.
  bool settle_at_once(double limit) {
    const double whole = std::min(wanted, limit - time);
    double h = shortest > 0.0 ? 0.2 * whole : kJolt * whole;
    Fields next = now;
    while (!advance(h, &next).solved) {
      next = now;
      h *= 5.0;
      if (h > kJoltMost * whole) return false;
    }
    now = before = last = std::move(next);
    stores.accept();
    stores.go_back();
    content_now = content_before = solver.contents(now);
    time += h;
    settled_at_once = true;
    return true;
  }

  /// One step of length h into `next`. What is solid and the air it warms are brought together by the secant
  /// method, which takes one round more where the step is short beside the time the air takes to pass.
  StepSolve advance(double h, Fields* next) {
    const TimeWeights weights = backward_differences(h, past > 0 ? h1 : 0.0);
    const Storage storage(weights, content_now, content_before);
    if (stores.empty()) return solver.solve(storage, options.tolerances, next);
    std::vector<double> air = stores.air_of(*next), tried, found;
    StepSolve sum;
    for (int round = 0; round < kAirRounds; ++round) {
      stores.advance(weights, air);
      StepSolve solved = solver.solve(storage, options.tolerances, next);
      solved.newton += sum.newton;
      solved.iterations += sum.iterations;
      solved.factorisations += sum.factorisations;
      sum = solved;
      if (!sum.solved) return sum;
      const std::vector<double> truth = stores.air_of(*next);
      if (stores.fault(air, truth) <= kAirFault * given_heat) return sum;
      std::vector<double> better = truth;
      for (std::size_t n = 0; n < air.size() && !tried.empty(); ++n) {
        if (air[n] == tried[n]) continue;
        const double slope = std::clamp((truth[n] - found[n]) / (air[n] - tried[n]), -9.0, 0.5);
        better[n] = air[n] + (truth[n] - air[n]) / (1.0 - slope);
      }
      tried = std::move(air);
      found = truth;
      air = std::move(better);
    }
    sum.solved = false;
    return sum;
  }

  /// Length to try now, so that no sliver of a step is left before the limit.
  double length_for(double limit) const {
    const double left = limit - time;
    double h = options.fixed_step > 0.0 ? options.fixed_step : std::min(wanted, options.longest);
    if (past > 0 && !(options.fixed_step > 0.0)) h = std::min(h, kMostGrowth * h1);
    if (h >= left * (1.0 - 1e-9)) return left;
    return options.fixed_step > 0.0 || h <= 0.5 * left ? h : 0.5 * left;
  }

  void accept(double h, Fields next, double limit) {
    last = std::move(before);
    before = std::move(now);
    now = std::move(next);
    content_before = std::move(content_now);
    stores.accept();
    time = limit - time <= h * (1.0 + 1e-12) ? limit : time + h;
    h2 = h1;
    h1 = h;
    past = std::min(past + 1, 2);
    solver.take_scales(now);
    solver.evaluate(now);
    content_now = solver.contents(now);
  }

  MarchStep step(double limit) {
    MarchStep out;
    if (!settled_at_once && !(options.fixed_step > 0.0) && !settle_at_once(limit)) return out;
    double h = length_for(limit);
    while (out.tries < kMostTries) {
      ++out.tries;
      const Fields promise = promised(h);
      Fields next = promise;
      out.solved = advance(h, &next);
      out.step = h;
      if (!out.solved.solved) {
        h *= 0.25;
        continue;
      }
      const bool controlled = !(options.fixed_step > 0.0);
      out.error = past == 0 ? 0.0 : share_of_error(h) * solver.distance(next, promise) / options.tolerance;
      double growth = kMostGrowth;
      if (past > 0)
        growth =
            std::clamp(kSafety * std::pow(std::max(out.error, 1e-9), -1.0 / 3.0), kLeastGrowth, kMostGrowth);
      if (controlled && past == 1) {
        const double first = error_of_first(h, solver.distance(next, promise));
        if (first > 1.0 && h1 > shortest && restarts < kMostRestarts) {
          ++restarts;
          start_again(std::max(shortest, h1 * std::clamp(kSafety / std::sqrt(first), 0.05, 0.5)));
          h = length_for(limit);
          continue;
        }
      }
      if (controlled && out.error > 1.2 && h > shortest) {
        h = std::max(h * std::min(growth, 0.8), std::min(h, shortest));
        continue;
      }
      out.change = solver.distance(next, now);
      const bool cut = h < 0.99 * std::min(wanted, options.longest);  // by the limit, not by the error
      const double grown = h * growth;
      wanted = cut ? std::max(std::min(wanted, options.longest), grown) : grown;
      if (out.tries > 1) wanted = grown;
      wanted = std::max(wanted, shortest);
      accept(h, std::move(next), limit);
      out.good = true;
      return out;
    }
    solver.evaluate(now);
    return out;
  }

  Model model;
  HeatStores stores;
  ImplicitStep solver;
  MarchOptions options;
  Fields now, before, last;  ///< at this time, one step back, two steps back
  std::vector<field::State> content_now, content_before;
  double time = 0.0, h1 = 0.0, h2 = 0.0, wanted = 0.0, given_heat = 0.0, shortest = 0.0;
  int past = 0;  ///< steps behind the present state, counted to 2
  int restarts = 0;
  bool settled_at_once = false;
};

March::March(Model model, const Magnitudes& magnitudes, Fields start, const Given& given,
             const std::vector<HeatStore>& stores, const MarchOptions& options)
    : impl_(new Impl(std::move(model), magnitudes, std::move(start), given, stores, options)) {}
March::~March() = default;
MarchStep March::step(double limit) { return impl_->step(limit); }
double March::time() const { return impl_->time; }
const Fields& March::fields() const { return impl_->now; }
const Model& March::model() const { return impl_->model; }
const Coupling& March::coupling() const { return impl_->solver.coupling(); }
const HeatStores& March::stores() const { return impl_->stores; }

}  // namespace tuft::plan
