#include "solver/flow2d/march.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tuft::flow2d {
namespace {

constexpr double kMostGrowth = 2.0;  // of a step; zero-stable below 1 + sqrt 2 (Grigorieff 1983, from memory)
constexpr double kLeastGrowth = 0.3;
constexpr double kSafety = 0.9;
constexpr double kJoltMost = 1.01;
constexpr int kMostRestarts = 6;
constexpr int kMostTries = 20;        // begun for one step
constexpr int kAirRounds = 8;         // of thermal masses and the air they warm
constexpr double kAirFault = 1e-7;    // of all heat given, left between the two
constexpr double kFirstShare = 1e-3;  // of a passage, the first step
constexpr double kJolt = 0.02;        // of the first step: what settles at once has done so in it

/// a x + b y + c z of every value.
Fields combined(double a, const Fields& x, double b, const Fields& y, double c, const Fields& z) {
  Fields out = x;
  const auto blend = [&](double* o, const double* p, const double* q, const double* r, std::size_t n) {
    for (std::size_t k = 0; k < n; ++k) o[k] = a * p[k] + b * q[k] + c * r[k];
  };
  const auto parts = [](State& s) {
    return std::array<Array2*, 4>{&s.velocity[0], &s.velocity[1], &s.pressure, &s.temperature};
  };
  for (std::size_t l = 0; l < x.layers.size(); ++l) {
    State p = x.layers[l], q = y.layers[l], r = z.layers[l];
    const auto P = parts(p), Q = parts(q), R = parts(r), O = parts(out.layers[l]);
    for (std::size_t k = 0; k < 4; ++k)
      blend(O[k]->data(), P[k]->data(), Q[k]->data(), R[k]->data(), O[k]->size());
  }
  blend(out.own.data(), x.own.data(), y.own.data(), z.own.data(), out.own.size());
  return out;
}

}  // namespace

March::March(const Flow& flow, Fields start, const MarchOptions& options, ThermalMasses* thermal_masses)
    : solver_(flow),
      thermal_masses_(thermal_masses != nullptr ? *thermal_masses : none_),
      options_(options),
      now_(std::move(start)) {
  solver_.system().impose(&now_);
  solver_.take_scales(now_);
  before_ = last_ = now_;
  content_now_ = content_before_ = solver_.contents(now_);
  shortest_ = options.shortest_share * options.passage;
  wanted_ =
      std::max(options.first_step > 0.0 ? options.first_step : kFirstShare * options.passage, shortest_);
  solver_.evaluate(now_);
}

/// What the last states promise for `h` from now: a parabola, a line, or what there is.
Fields March::promised(double h) const {
  if (past_ == 0) return now_;
  if (past_ == 1) return combined(1.0 + h / h1_, now_, -h / h1_, before_, 0.0, last_);
  const double a = h1_ + h2_;
  return combined((h + h1_) * (h + a) / (h1_ * a), now_, -h * (h + a) / (h1_ * h2_), before_,
                  h * (h + h1_) / (a * h2_), last_);
}

/// Share of what solution and promise are apart that is the step's own error: third differences of the two
/// formulas (of first order at the second step, where no parabola is known).
double March::share_of_error(double h) const {
  if (past_ < 2) return h / (2.0 * h + h1_);
  const double own = h * h * (h + h1_) * (h + h1_) / (2.0 * h + h1_),
               promise = h * (h + h1_) * (h + h1_ + h2_);
  return own / (own + promise);
}

/// What the first step's error would be with what the second shows of the transient's curvature, over the
/// tolerance: that of the first-order formula.
double March::error_of_first(double h, double apart) const {
  return apart * h1_ * h1_ / (h * (2.0 * h + h1_)) / options_.tolerance;
}

/// Back to the start, with a shorter first step.
void March::start_again(double shorter) {
  now_ = before_;
  content_now_ = content_before_;
  thermal_masses_.go_back();
  solver_.take_scales(now_);
  time_ -= h1_;
  wanted_ = shorter;
  h1_ = h2_ = 0.0;
  past_ = 0;
}

/// Pressures, and what velocities the vents allow, follow at once when something is shut or switched; a
/// step of no length to speak of lets them, so that no error is seen in it.
bool March::settle_at_once(double limit) {
  const double whole = std::min(wanted_, limit - time_);
  double h = shortest_ > 0.0 ? 0.2 * whole : kJolt * whole;
  Fields next = now_;
  while (!advance(h, &next).solved) {
    next = now_;
    h *= 5.0;
    if (h > kJoltMost * whole) return false;
  }
  now_ = before_ = last_ = std::move(next);
  thermal_masses_.accept();
  thermal_masses_.go_back();
  content_now_ = content_before_ = solver_.contents(now_);
  time_ += h;
  settled_at_once_ = true;
  return true;
}

/// One step of length h into `next`. What is solid and the air it warms are brought together by the secant
/// method, which takes one round more where the step is short beside the time the air takes to pass.
StepSolve March::advance(double h, Fields* next) {
  const TimeWeights weights = backward_differences(h, past_ > 0 ? h1_ : 0.0);
  const Storage storage(weights, content_now_, content_before_);
  if (thermal_masses_.empty()) return solver_.solve_step(storage, options_.tolerances, next);
  std::vector<double> air = thermal_masses_.air_of(*next), tried, found;
  StepSolve sum;
  for (int round = 0; round < kAirRounds; ++round) {
    thermal_masses_.advance(weights, air);
    StepSolve solved = solver_.solve_step(storage, options_.tolerances, next);
    solved.newton += sum.newton;
    solved.iterations += sum.iterations;
    solved.factorisations += sum.factorisations;
    sum = solved;
    if (!sum.solved) return sum;
    const std::vector<double> truth = thermal_masses_.air_of(*next);
    if (thermal_masses_.fault(air, truth) <= kAirFault * thermal_masses_.given()) return sum;
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
double March::length_for(double limit) const {
  const double left = limit - time_;
  double h = options_.fixed_step > 0.0 ? options_.fixed_step : std::min(wanted_, options_.longest);
  if (past_ > 0 && !(options_.fixed_step > 0.0)) h = std::min(h, kMostGrowth * h1_);
  if (h >= left * (1.0 - 1e-9)) return left;
  return options_.fixed_step > 0.0 || h <= 0.5 * left ? h : 0.5 * left;
}

void March::accept(double h, Fields next, double limit) {
  last_ = std::move(before_);
  before_ = std::move(now_);
  now_ = std::move(next);
  content_before_ = std::move(content_now_);
  thermal_masses_.accept();
  time_ = limit - time_ <= h * (1.0 + 1e-12) ? limit : time_ + h;
  h2_ = h1_;
  h1_ = h;
  past_ = std::min(past_ + 1, 2);
  solver_.take_scales(now_);
  solver_.evaluate(now_);
  content_now_ = solver_.contents(now_);
}

MarchStep March::step(double limit) {
  MarchStep out;
  if (!settled_at_once_ && !(options_.fixed_step > 0.0) && !settle_at_once(limit)) return out;
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
    const bool controlled = !(options_.fixed_step > 0.0);
    out.error = past_ == 0 ? 0.0 : share_of_error(h) * solver_.distance(next, promise) / options_.tolerance;
    double growth = kMostGrowth;
    if (past_ > 0)
      growth =
          std::clamp(kSafety * std::pow(std::max(out.error, 1e-9), -1.0 / 3.0), kLeastGrowth, kMostGrowth);
    if (controlled && past_ == 1) {
      const double first = error_of_first(h, solver_.distance(next, promise));
      if (first > 1.0 && h1_ > shortest_ && restarts_ < kMostRestarts) {
        ++restarts_;
        start_again(std::max(shortest_, h1_ * std::clamp(kSafety / std::sqrt(first), 0.05, 0.5)));
        h = length_for(limit);
        continue;
      }
    }
    if (controlled && out.error > 1.2 && h > shortest_) {
      h = std::max(h * std::min(growth, 0.8), std::min(h, shortest_));
      continue;
    }
    out.change = solver_.distance(next, now_);
    const bool cut = h < 0.99 * std::min(wanted_, options_.longest);  // by the limit, not by the error
    const double grown = h * growth;
    wanted_ = cut ? std::max(std::min(wanted_, options_.longest), grown) : grown;
    if (out.tries > 1) wanted_ = grown;
    wanted_ = std::max(wanted_, shortest_);
    accept(h, std::move(next), limit);
    out.good = true;
    return out;
  }
  solver_.evaluate(now_);
  return out;
}

double March::kinetic_energy() const {
  double sum = 0.0;
  for (int l = 0; l < solver_.system().n_layers(); ++l) {
    const Residual& r = residual(l);
    const State& state = now_.layers[l];
    for (int d = 0; d < 2; ++d) {
      const ComponentMesh& mesh = r.mesh().component[d];
      for (int j = 0; j < mesh.active.ny(); ++j)
        for (int i = 0; i < mesh.active.nx(); ++i)
          if (const double u = state.velocity[d](i, j); mesh.active(i, j) != 0)
            sum += 0.5 * r.face_density(d, i, j, u) * mesh.volume(i, j) * u * u;
    }
  }
  return sum;
}

}  // namespace tuft::flow2d
