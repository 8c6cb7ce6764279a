// The control of steps in pseudo-time (docs/field.md, F12).
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "solver/flow2d/newton.hpp"
#include "solver/sparse/gmres.hpp"

namespace tuft::flow2d {
namespace {

// Of the residual asked for: the balances, which are asked for too, hold as well then (by measurement).
constexpr double kEnough = 0.05;
constexpr int kNoFactors = 1000;     // as many iterations as make factors anew
constexpr int kKeptIterations = 10;  // factors are kept while GMRES needs no more (by measurement)
// Residual above which the matrix of joined layers still changes much from step to step (by measurement on 4,
// 2 and 1 mm cells): factors are made anew once the residual has fallen to a quarter.
constexpr double kNear = 0.02;

std::string number(double x) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2e", x);
  return text;
}

double size_of(const std::vector<double>& r) { return std::sqrt(sparse::ordered_dot(r, r)); }

/// How far along a step to go, and the residual there.
struct Trial {
  double length = 0.0;
  double size = -1.0;  ///< negative: no finite residual was found
  bool last = false;   ///< its balances are those last evaluated
  /// Steps in pseudo-time may enlarge the residual on the way to a far solution, within reason.
  bool acceptable(double before) const { return size >= 0.0 && size < 2.0 * before; }
};

}  // namespace

/// One solve of a NewtonSolver.
class Continuation {
 public:
  Continuation(const NewtonOptions& options, NewtonSolver* solver, Fields* fields)
      : options_(options),
        solver_(*solver),
        system_(solver->system_),
        fields_(*fields),
        joined_(system_.flow().coupling_terms != nullptr),
        held_(system_.flow().factors_apart && !system_.residual(0).problem().energy) {}

  NewtonSummary run() {
    system_.impose(&fields_);
    if (system_.set_scales(fields_, true)) solver_.flow_kept_ = false;
    NewtonSummary summary = take_steps();
    solver_.flow_kept_ = held_ && summary.converged() && summary.factorisations > 0;
    return summary;
  }

 private:
  NewtonSummary take_steps() {
    balances_ = system_.balances(fields_);
    size_ = best_ = factored_size_ = size_of(balances_);
    courant_ = options_.first_courant;
    summary_.history.push_back(size_);
    bool converged = within();
    while (!converged && summary_.steps < options_.max_steps) {
      if (!step()) return std::move(summary_);
      converged = within();
      if (!converged && (since_best_ >= 30 || in_vain_ >= NewtonSolver::kMostInVain)) {
        stagnate();
        return std::move(summary_);
      }
    }
    summary_.end = converged ? StepsEnd::converged : StepsEnd::step_limit;
    summary_.message = (converged ? "converged: residual " : "step limit reached: residual ") +
                       number(size_) + ", mass " + number(summary_.audit.mass) + ", energy " +
                       number(summary_.audit.energy);
    if (!converged) summary_.message += "; largest in " + where_largest();
    return std::move(summary_);
  }

  void stagnate() {
    summary_.end = StepsEnd::stagnated;
    const std::string what = since_best_ >= 30 ? "the residual has not fallen for 30 steps"
                                               : "the equations of " + std::to_string(in_vain_) +
                                                     " steps in a row could not be solved";
    summary_.message =
        what + "; last " + number(size_) + ", best " + number(best_) + ", largest in " + where_largest() +
        ". Likely causes: the flow has no steady state, a limiter switches, the grid is too coarse";
  }

  bool within() {
    summary_.audit = system_.balance();
    return size_ <= options_.residual_tolerance && summary_.audit.mass <= options_.mass_tolerance &&
           summary_.audit.energy <= options_.energy_tolerance &&
           summary_.audit.energy_cells <= options_.energy_tolerance;
  }

  /// A kept factorisation serves while GMRES needs few iterations with it.
  bool stale() const {
    const double drift = std::max(courant_, factored_courant_) / std::min(courant_, factored_courant_);
    return last_iterations_ > kKeptIterations ||
           (drift > 4.0 && std::min(courant_, factored_courant_) < 1e4) ||
           (joined_ && size_ > kNear && size_ < 0.25 * factored_size_);
  }

  /// How far a step is solved: as far as the last one promises that its own residual will fall (Eisenstat &
  /// Walker 1996, SIAM J. Sci. Comput. 17:16-32, choice 2, from memory), and no further than is asked for.
  double linear_tolerance() const {
    if (!joined_) return size_ >= 1e-4 ? 1e-2 : 1e-4;
    const double promised = last_fall_ * last_fall_;
    return std::clamp(std::max(promised, kEnough * options_.residual_tolerance / size_), 1e-4, 1e-2);
  }

  /// One step or the attempt at one; false when there is no way on.
  bool step() {
    ++summary_.steps;
    system_.set_renewal(&solver_.inertia_);
    const bool fresh = stale();
    if (fresh) {
      factor();
      factored_courant_ = courant_;
      factored_size_ = size_;
      ++summary_.factorisations;
    }
    std::vector<double> d;
    last_iterations_ = solver_.direction(fields_, balances_, courant_, linear_tolerance(), &d);
    const int iterations = last_iterations_;
    summary_.linear_iterations += iterations;
    const Trial trial = best_along(d);
    if (!trial.acceptable(size_)) return retreat();
    system_.add(d, trial.length, &fields_);
    balances_ = trial.last ? std::move(moved_) : system_.balances(fields_);
    const double ratio = size_ / std::max(trial.size, 1e-300);
    last_fall_ = 1.0 / ratio;
    in_vain_ = NewtonSolver::in_vain(iterations, last_fall_) ? in_vain_ + 1 : 0;
    courant_ = std::min(options_.last_courant, courant_ * std::clamp(std::pow(ratio, 1.5) * 1.5, 0.5, 30.0));
    size_ = trial.size;
    if (system_.set_scales(fields_, false)) {
      balances_ = system_.balances(fields_);
      best_ = size_ = size_of(balances_);
      last_iterations_ = kNoFactors;
    }
    summary_.history.push_back(size_);
    if (options_.observer)
      options_.observer({system_.nx(), system_.ny(), summary_.steps, size_, courant_, iterations, fresh});
    since_best_ = size_ < 0.9 * best_ ? 0 : since_best_ + 1;
    best_ = std::min(best_, size_);
    return true;
  }

  bool retreat() {
    system_.balances(fields_);  // of the state, which stays
    courant_ *= 0.2;
    last_iterations_ = kNoFactors;
    if (++rejected_ <= 25) return true;
    summary_.end = StepsEnd::diverged;
    summary_.message = "every step enlarges the residual, however small; last " + number(size_) +
                       ", largest in " + where_largest();
    return false;
  }

  /// The preconditioner of D/courant - J at the fields.
  void factor() {
    const Rows rows = held_ ? Rows::flow : solver_.flow_kept_ ? Rows::heat : Rows::all;
    solver_.factors_.factor(fields_, solver_.inertia_, courant_, &system_, rows);
    solver_.flow_kept_ = false;
    solver_.factored_rate_ = 0.0;
  }

  /// The whole step, or a part of it that lowers the residual when the whole does not.
  Trial best_along(const std::vector<double>& d) {
    Trial best;
    for (const double length : {1.0, 0.5, 0.25, 0.1}) {
      system_.move(fields_, d, length, &solver_.moved_);
      moved_ = system_.balances(solver_.moved_);
      const double found = size_of(moved_);
      best.last = std::isfinite(found) && (best.size < 0.0 || found < best.size);
      if (best.last) best = {length, found, true};
      if (best.size >= 0.0 && best.size < size_) break;
    }
    return best;
  }

  std::string where_largest() const {
    std::size_t at = 0;
    for (std::size_t k = 0; k < balances_.size(); ++k)
      if (std::abs(balances_[k]) > std::abs(balances_[at])) at = k;
    return balances_.empty() ? "nowhere" : system_.place_of(static_cast<int>(at));
  }

  const NewtonOptions& options_;
  NewtonSolver& solver_;
  FlowSystem& system_;
  Fields& fields_;
  const bool joined_;
  const bool held_;  ///< the temperatures are
  NewtonSummary summary_;
  std::vector<double> balances_, moved_;
  double size_ = 0.0, best_ = 0.0, factored_size_ = 0.0;
  double courant_ = 1.0, factored_courant_ = 1.0;
  double last_fall_ = 1.0;  ///< of the residual, in the last step
  int since_best_ = 0, in_vain_ = 0, rejected_ = 0, last_iterations_ = kNoFactors;
};

NewtonSummary NewtonSolver::solve(const NewtonOptions& options, Fields* fields) {
  return Continuation(options, this, fields).run();
}

}  // namespace tuft::flow2d
